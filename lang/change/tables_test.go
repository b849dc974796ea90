package change

import (
	"reflect"
	"testing"

	"cagenut/lang/estate"
)

// TestTablesMissNothing sets each field of the model in turn and asks the
// table to see it, to write it, and to carry it over.
func TestTablesMissNothing(t *testing.T) {
	keys := map[string]bool{"Source": true, "Name": true} // where it stands, and what it is matched by
	missNothing(t, estateAttributes, map[string]bool{
		"Source": true, "Unresolved": true, "Broken": true,
		// Compared thing by thing.
		"Givens": true, "Sites": true, "Rooms": true, "Rows": true, "Frames": true, "Equipment": true, "Feeds": true,
		"PowerSources": true, "Breakers": true, "Bars": true, "Routes": true, "Sequences": true,
		"Racks": true, "Layouts": true, "Groups": true, "Windows": true, "Freezes": true, "Paces": true, "Benches": true,
		"Rulings": true,
	})
	missNothing(t, givenAttributes, keys)
	missNothing(t, siteAttributes, keys)
	missNothing(t, roomAttributes, keys)
	missNothing(t, rowAttributes, keys)
	missNothing(t, barAttributes, keys)
	missNothing(t, routeAttributes, keys)
	missNothing(t, gateAttributes, keys)
	missNothing(t, frameAttributes, keys)
	missNothing(t, equipmentAttributes, keys)
	missNothing(t, feedAttributes, keys)
	missNothing(t, sourceAttributes, keys)
	missNothing(t, breakerAttributes, keys)
	missNothing(t, layoutAttributes, keys)
	missNothing(t, groupAttributes, keys)
	missNothing(t, sequenceAttributes, keys)
	missNothing(t, sequenceStepAttributes, keys)
	missNothing(t, windowAttributes, keys)
	missNothing(t, freezeAttributes, keys)
	missNothing(t, paceAttributes, keys)
	missNothing(t, benchAttributes, keys)
	missNothing(t, policyAttributes, keys)
	missNothing(t, adjustmentAttributes, map[string]bool{"Source": true, "Rule": true})
	missNothing(t, waiverAttributes, map[string]bool{"Source": true, "Rule": true, "On": true, "OnAt": true})
	missNothing(t, rackAttributes, map[string]bool{"Source": true, "Mounts": true, "Blanks": true, "Reserves": true})
	missNothing(t, mountAttributes(nil), map[string]bool{"Source": true})
	missNothing(t, reserveAttributes(nil), map[string]bool{"Source": true})
}

func missNothing[T any](t *testing.T, table []attribute[T], but map[string]bool) {
	t.Helper()
	kind := reflect.TypeFor[T]()
	for i := range kind.NumField() {
		field := kind.Field(i)
		if but[field.Name] {
			continue
		}
		for _, leaf := range leaves(field.Type) {
			var a, b, c T
			fill(reflect.ValueOf(&b).Elem().Field(i), leaf)
			found := alterations(table, &a, &b, style{})
			if len(found) == 0 {
				t.Errorf("%s.%s%s: no attribute compares it", kind.Name(), field.Name, leaf)
				continue
			}
			if found[0].Old == found[0].New {
				t.Errorf("%s.%s%s: both values are written %q", kind.Name(), field.Name, leaf, found[0].New)
			}
			carry(table, found, &c, &b)
			if left := alterations(table, &b, &c, style{}); len(left) > 0 {
				t.Errorf("%s.%s%s: not carried over: %v", kind.Name(), field.Name, leaf, left)
			}
		}
	}
}

// TestAlikeAtSightMissesNothing sets each field of a mount in turn: what the
// table sees, the quick look must not take for alike.
func TestAlikeAtSightMissesNothing(t *testing.T) {
	kind := reflect.TypeFor[estate.Mount]()
	for i := range kind.NumField() {
		field := kind.Field(i)
		if field.Name == "Source" {
			continue
		}
		for _, leaf := range leaves(field.Type) {
			rack := &estate.Rack{Name: "r"}
			a, b := estate.Mount{Rack: rack}, estate.Mount{Rack: rack}
			if !alikeAtSight(&a, &b) {
				t.Fatal("two mounts without anything are not alike at sight")
			}
			fill(reflect.ValueOf(&b).Elem().Field(i), leaf)
			if alikeAtSight(&a, &b) {
				t.Errorf("Mount.%s%s is not looked at", field.Name, leaf)
			}
		}
	}
}

// leaves gives the paths to the parts of a field that may differ alone.
func leaves(t reflect.Type) []string {
	if t.Kind() == reflect.Pointer && t == reflect.TypeFor[*estate.ZeroUPlace]() {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct {
		return []string{""}
	}
	var out []string
	for i := range t.NumField() {
		f := t.Field(i)
		switch f.Type {
		case reflect.TypeFor[estate.Span](), reflect.TypeFor[estate.Range]():
			continue // where it stands
		}
		if f.Name == "Of" || f.Name == "Part" {
			continue // both parts of a slot are set together
		}
		for _, l := range leaves(f.Type) {
			out = append(out, "."+f.Name+l)
		}
	}
	if t == reflect.TypeFor[estate.Slot]() {
		return []string{""}
	}
	return out
}

// fill sets the part of v that path leads to, and what must be set with it for
// the part to mean anything.
func fill(v reflect.Value, path string) {
	if v.Type() == reflect.TypeFor[estate.Slot]() {
		v.Set(reflect.ValueOf(estate.Slot{Part: 1, Of: 2}))
		return
	}
	if v.Kind() == reflect.Pointer && path != "" {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	if path != "" {
		if state := v.FieldByName("State"); state.IsValid() && state.Type() == reflect.TypeFor[estate.State]() {
			state.SetUint(uint64(estate.IsGiven))
		}
		name, rest := path[1:], ""
		for i := range name {
			if name[i] == '.' {
				name, rest = name[:i], name[i:]
				break
			}
		}
		fill(v.FieldByName(name), rest)
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(90_000)
		if v.Kind() == reflect.Int16 {
			v.SetInt(90)
		}
	case reflect.Uint8:
		v.SetUint(1)
	case reflect.Float64:
		v.SetFloat(0.25)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		if name := v.Elem().FieldByName("Name"); name.IsValid() {
			name.SetString("x")
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		switch elem := v.Index(0); elem.Kind() {
		case reflect.Struct:
			for i := range elem.NumField() {
				if elem.Field(i).Kind() == reflect.String {
					elem.Field(i).SetString("x")
				}
			}
		default:
			fill(elem, "")
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		value := reflect.New(v.Type().Elem()).Elem()
		fill(value, "")
		v.SetMapIndex(reflect.ValueOf("x"), value)
	default:
		panic("cannot fill " + v.Type().String())
	}
}
