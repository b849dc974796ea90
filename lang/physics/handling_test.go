package physics

import (
	"testing"

	"cagenut/lang/quantity"
)

// Figures of INDG143 of the Health and Safety Executive.
func TestFilter(t *testing.T) {
	if got := Filter(ElbowToKnuckle, true, false); got != 25*kg {
		t.Errorf("men, close, elbow to knuckle: %v", got)
	}
	if got := Filter(ElbowToKnuckle, true, true); got != 16*kg {
		t.Errorf("women, close, elbow to knuckle: %v", got)
	}
	if got := Filter(AboveShoulder, false, true); got != 3*kg {
		t.Errorf("women, arm's length, above the shoulder: %v", got)
	}
	// The whole figure of INDG143: close and at arm's length, men and women.
	for z, row := range map[Zone][4]quantity.Mass{
		AboveShoulder: {10, 5, 7, 3}, ShoulderToElbow: {20, 10, 13, 7}, ElbowToKnuckle: {25, 15, 16, 10},
		KnuckleToLeg: {20, 10, 13, 7}, BelowLeg: {10, 5, 7, 3},
	} {
		got := [4]quantity.Mass{Filter(z, true, false), Filter(z, false, false), Filter(z, true, true), Filter(z, false, true)}
		for i := range got {
			if got[i] != row[i]*kg {
				t.Errorf("zone %d: %v, want %v kg", z, got, row)
				break
			}
		}
	}
	for z := AboveShoulder; z <= BelowLeg; z++ {
		for _, women := range []bool{false, true} {
			if Filter(z, true, women) <= Filter(z, false, women) {
				t.Errorf("zone %d: close must allow more than arm's length", z)
			}
		}
		if Filter(z, true, true) >= Filter(z, true, false) {
			t.Errorf("zone %d: the figure for women must be the lower one", z)
		}
	}
	// From the knuckles to above the shoulder the smaller figure holds.
	if got := FilterBetween(800*mm, 1700*mm, true, false); got != 10*kg {
		t.Errorf("from 0.8 m to 1.7 m: %v", got)
	}
	if got := FilterBetween(1700*mm, 100*mm, false, false); got != 5*kg {
		t.Errorf("from 1.7 m to 0.1 m: %v", got)
	}
	if got := Filter(NoZone, true, false); got != 0 {
		t.Errorf("no zone: %v", got)
	}
}

func TestTwistAndRepetition(t *testing.T) {
	for angle, want := range map[quantity.Angle]quantity.Mass{45 * deg: 25 * kg, 46 * deg: 22_500 * quantity.Gram, 91 * deg: 20 * kg} {
		if got := Twisted(25*kg, angle); got != want {
			t.Errorf("Twisted(25 kg, %v) = %v, want %v", angle, got, want)
		}
	}
	for perMinute, want := range map[float64]float64{0.5: 20, 1: 14, 2: 14, 5: 10, 8: 10, 13: 4} {
		near(t, "repeated", Repeated(20*kg, perMinute).Kilograms(), want, 1e-9)
	}
}

// Vectors of a public rail body's guidance on handling in teams.
func TestTeam(t *testing.T) {
	tests := []struct {
		alone  quantity.Mass
		people int
		want   float64
	}{
		{20 * kg, 1, 20}, {20 * kg, 2, 26.67}, {25 * kg, 2, 33.33}, {25 * kg, 3, 37.5}, {16 * kg, 2, 21.33}, {16 * kg, 3, 24}, {25 * kg, 5, 0},
	}
	for _, tt := range tests {
		near(t, "team", Team(tt.alone, tt.people).Kilograms(), tt.want, 0.005)
	}
}

func TestPropose(t *testing.T) {
	tests := []struct {
		m      quantity.Mass
		centre quantity.Length
		want   Crew
	}{
		{9 * kg, 300 * mm, Crew{People: 1}},
		{11 * kg, 300 * mm, Crew{People: 2}},
		{16 * kg, 1000 * mm, Crew{People: 1}},
		{17 * kg, 1000 * mm, Crew{People: 2}},
		{32 * kg, 1200 * mm, Crew{People: 2}},
		{33 * kg, 1200 * mm, Crew{People: 2, Lift: true}},
		{20 * kg, 1500 * mm, Crew{People: 2}},
		{26 * kg, 1500 * mm, Crew{People: 2, Lift: true}},
		{10 * kg, 1800 * mm, Crew{People: 2, Watcher: true}},
		{17 * kg, 1800 * mm, Crew{People: 2, Lift: true, Watcher: true}},
		{65 * kg, 400 * mm, Crew{People: 2, Lift: true, Watcher: true}},
	}
	for _, tt := range tests {
		if got := Propose(tt.m, tt.centre); got != tt.want {
			t.Errorf("Propose(%v, %v) = %+v, want %+v", tt.m, tt.centre, got, tt.want)
		}
	}
	// Of two ends the harder one counts.
	if got := ProposeBetween(10*kg, 900*mm, 1800*mm); got != (Crew{People: 2, Watcher: true}) {
		t.Errorf("ProposeBetween = %+v", got)
	}
}
