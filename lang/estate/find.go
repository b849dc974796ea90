package estate

import "cmp"

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

// CompareNames compares names with the numbers in them by value: "rack-2"
// comes before "rack-10".
func CompareNames(a, b string) int {
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		if digit(a[i]) && digit(b[j]) {
			m, n := digitsEnd(a, i), digitsEnd(b, j)
			// Longer runs of digits are larger numbers, less leading zeros.
			x, y := trimZeros(a[i:m]), trimZeros(b[j:n])
			if c := cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(x, y)); c != 0 {
				return c
			}
			i, j = m, n
			continue
		}
		if a[i] != b[j] {
			return cmp.Compare(a[i], b[j])
		}
		i, j = i+1, j+1
	}
	return cmp.Or(cmp.Compare(len(a)-i, len(b)-j), cmp.Compare(a, b))
}

func digit(c byte) bool { return '0' <= c && c <= '9' }

func digitsEnd(s string, from int) int {
	for from < len(s) && digit(s[from]) {
		from++
	}
	return from
}

func trimZeros(s string) string {
	for len(s) > 1 && s[0] == '0' {
		s = s[1:]
	}
	return s
}
