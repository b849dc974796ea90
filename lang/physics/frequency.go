package physics

// frequencies is table 5 of the manual (p. 15): lifts a minute, and for each
// spell the multiplier with the origin below the waist and from it up.
var frequencies = []struct {
	perMinute             float64
	short, moderate, long [2]float64
}{
	{0.2, [2]float64{1.00, 1.00}, [2]float64{.95, .95}, [2]float64{.85, .85}},
	{0.5, [2]float64{.97, .97}, [2]float64{.92, .92}, [2]float64{.81, .81}},
	{1, [2]float64{.94, .94}, [2]float64{.88, .88}, [2]float64{.75, .75}},
	{2, [2]float64{.91, .91}, [2]float64{.84, .84}, [2]float64{.65, .65}},
	{3, [2]float64{.88, .88}, [2]float64{.79, .79}, [2]float64{.55, .55}},
	{4, [2]float64{.84, .84}, [2]float64{.72, .72}, [2]float64{.45, .45}},
	{5, [2]float64{.80, .80}, [2]float64{.60, .60}, [2]float64{.35, .35}},
	{6, [2]float64{.75, .75}, [2]float64{.50, .50}, [2]float64{.27, .27}},
	{7, [2]float64{.70, .70}, [2]float64{.42, .42}, [2]float64{.22, .22}},
	{8, [2]float64{.60, .60}, [2]float64{.35, .35}, [2]float64{.18, .18}},
	{9, [2]float64{.52, .52}, [2]float64{.30, .30}, [2]float64{0, .15}},
	{10, [2]float64{.45, .45}, [2]float64{.26, .26}, [2]float64{0, .13}},
	{11, [2]float64{.41, .41}, [2]float64{0, .23}, [2]float64{0, 0}},
	{12, [2]float64{.37, .37}, [2]float64{0, .21}, [2]float64{0, 0}},
	{13, [2]float64{0, .34}, [2]float64{0, 0}, [2]float64{0, 0}},
	{14, [2]float64{0, .31}, [2]float64{0, 0}, [2]float64{0, 0}},
	{15, [2]float64{0, .28}, [2]float64{0, 0}, [2]float64{0, 0}},
}

// Frequency gives the frequency multiplier for lifts a minute, with the origin
// below the waist (75 cm, 30 in) or not: at least the first row, between rows
// on the straight line (example 7, pp. 56-57), above 15 a minute nothing.
func Frequency(perMinute float64, spell LiftSpell, low bool) float64 {
	column := func(i int) float64 {
		row := &frequencies[i]
		switch spell {
		case Short:
			return row.short[b2i(!low)]
		case Moderate:
			return row.moderate[b2i(!low)]
		case Long:
			return row.long[b2i(!low)]
		}
		return 0
	}
	if perMinute <= frequencies[0].perMinute {
		return column(0)
	}
	for i := 1; i < len(frequencies); i++ {
		lo, hi := frequencies[i-1].perMinute, frequencies[i].perMinute
		if perMinute <= hi {
			part := (perMinute - lo) / (hi - lo)
			return column(i-1) + part*(column(i)-column(i-1))
		}
	}
	return 0
}

// PerMinute gives the frequency of work that is done in bursts: lifts a minute
// while lifting, for so many of every fifteen minutes (p. 16: 10 lifts a minute
// for 8 minutes count as 5.33).
func PerMinute(whileLifting, minutes float64) float64 { return whileLifting * minutes / 15 }
