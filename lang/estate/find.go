package estate

// Rack gives the rack of that name, or nil.
func (e *Estate) Rack(name string) *Rack {
	return find(e.Racks, name, func(r *Rack) string { return r.Name })
}

// Mount gives the mount of that name in the rack, or nil.
func (r *Rack) Mount(name string) *Mount {
	return find(r.Mounts, name, func(m *Mount) string { return m.Name })
}

// find gives the first element of that name. The estate is small enough, and
// asked seldom enough, for no index to be worth keeping true.
func find[T any](all []*T, name string, of func(*T) string) *T {
	for _, t := range all {
		if of(t) == name {
			return t
		}
	}
	return nil
}
