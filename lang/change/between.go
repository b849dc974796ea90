package change

import "cagenut/lang/estate"

// Between gives the difference of two estates. Neither is changed, and the
// result shares their mounts and racks.
func Between(a, b *estate.Estate) *Change {
	c := &Change{Old: a, New: b}
	return c
}

func otherHardware(a, b *estate.Mount) bool { return false }
