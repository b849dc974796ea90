package estate

import "cagenut/lang/quantity"

// StandsOn gives the mount that carries m where m stands on a shelf: one on
// the same posts that ends where m begins, shares its width and says what it
// may carry. It gives nil where no such shelf is declared.
func (r *Rack) StandsOn(m *Mount) *Mount {
	if m.Equipment == nil || m.Equipment.Mounting != Shelf {
		return nil
	}
	e, ok := m.Extent()
	if !ok {
		return nil
	}
	for _, under := range r.Mounts {
		if under == m || under.Equipment == nil || under.Equipment.Carries.State == IsMissing || under.Posts() != m.Posts() || !under.Slot.Overlaps(m.Slot) {
			continue
		}
		if u, ok := under.Extent(); ok && under.ZeroU == nil && quantity.Abs(u.Top-e.Bottom) <= Touch {
			return under
		}
	}
	return nil
}
