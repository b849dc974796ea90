package coupler

import (
	"testing"

	"cagenut/lang/quantity"
)

// Pairs, odd number into even, as printed in tables of IEC 60320 and AS/NZS
// 60320.1; a C13 does not enter a C16.
func TestMates(t *testing.T) {
	tests := []struct {
		female, male string
		ok, known    bool
	}{
		{"c13", "c14", true, true},
		{"C13", "C14", true, true},
		{"c19", "c20", true, true},
		{"c13", "c20", false, true},
		{"c13", "c16", false, true},
		{"c15", "c14", true, true},
		{"c15", "c16", true, true},
		{"c14", "c13", false, true}, // the wrong way round
		{"c14", "c14", false, true},
		{"5-20-r", "5-15-p", true, true},
		{"5-15-r", "5-20-p", false, true},
		{"cee7-3", "cee7-7", true, true},
		{"cee7-5", "cee7-7", true, true},
		{"60309-32-3-r", "60309-16-3-p", false, true},
		{"c13", "terminal", false, false},
		{"", "c14", false, false},
	}
	for _, tt := range tests {
		if ok, known := Mates(tt.female, tt.male); ok != tt.ok || known != tt.known {
			t.Errorf("Mates(%q, %q) = %v, %v, want %v, %v", tt.female, tt.male, ok, known, tt.ok, tt.known)
		}
	}
}

func TestPartnersBelongTogether(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range All {
		for _, name := range []string{c.Female, c.Male} {
			if seen[name] {
				t.Errorf("%s stands twice", name)
			}
			seen[name] = true
			if Partner(Partner(name)) != name {
				t.Errorf("the partner of %s is %s, whose partner is %s", name, Partner(name), Partner(Partner(name)))
			}
		}
		if ok, _ := Mates(c.Female, c.Male); !ok {
			t.Errorf("%s does not take %s", c.Female, c.Male)
		}
		if c.Rated <= 0 || c.Source == "" {
			t.Errorf("%s lacks rating or source", c.Female)
		}
	}
}

func TestRating(t *testing.T) {
	// 10 A by IEC and up to 15 A in North America; 16 A and 20 A.
	for name, want := range map[string][2]quantity.Current{"c13": {10 * a, 15 * a}, "c20": {16 * a, 20 * a}, "bs1363-r": {13 * a, 13 * a}} {
		rated, american, ok := Rating(name)
		if !ok || rated != want[0] || american != want[1] {
			t.Errorf("Rating(%s) = %v, %v, %v, want %v", name, rated, american, ok, want)
		}
	}
	if _, _, ok := Rating("c99"); ok {
		t.Error("there is no c99")
	}
}
