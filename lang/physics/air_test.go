package physics

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"cagenut/lang/quantity"
	"cagenut/testdata/outside"
)

const metre = quantity.Metre

// Feet and factors are printed in a handbook page on cooling at altitude; the
// metric ones were computed with psychrolib.
func TestPressure(t *testing.T) {
	sea := float64(Pressure(0))
	feet := []struct{ ft, printed, standard float64 }{
		{2000, 0.93, 0.9298}, {4000, 0.86, 0.8637}, {6000, 0.80, 0.8014}, {8000, 0.74, 0.7428}, {10_000, 0.69, 0.6877},
	}
	for _, f := range feet {
		got := float64(Pressure(quantity.Of(f.ft, quantity.Foot))) / sea
		near(t, fmt.Sprintf("pressure at %g ft", f.ft), got, f.standard, 0.00006)
		near(t, fmt.Sprintf("pressure at %g ft, printed", f.ft), got, f.printed, 0.0051)
	}
	metres := []struct{ m, want float64 }{{300, .96494}, {900, .89780}, {1500, .83450}, {1800, .80424}, {3000, .69192}, {3050, .68753}}
	for _, f := range metres {
		near(t, fmt.Sprintf("pressure at %g m", f.m), float64(Pressure(quantity.Of(f.m, metre)))/sea, f.want, 0.000006)
	}
}

func TestAirDensity(t *testing.T) {
	for m, want := range map[float64]float64{0: 1.20415, 900: 1.08109, 1500: 1.00487, 3050: 0.82789} {
		near(t, fmt.Sprintf("density at %g m", m), AirDensity(quantity.Of(m, metre), 20*quantity.Celsius), want, 0.00001)
	}
}

// Worked by hand with 1.204 kg/m3 and 1006 J/(kg K), and compared with the two
// rules of thumb that hold at sea level.
func TestAirflow(t *testing.T) {
	const sea = 1.204
	tests := []struct {
		name                    string
		heat                    quantity.Power
		rise, density           float64
		m3h, cfm, byC, byF, tol float64
	}{
		{"1 kW, 10 K", 1000 * w, 10, sea, 297.22, 174.94, 176.0, 175.56, 0.006},
		{"5 kW, 12 K", 5000 * w, 12, sea, 1238.4, 728.9, 733.3, 731.5, 0.05},
		{"5 kW, 12 K at 1500 m", 5000 * w, 12, sea * 0.8345, 1484.0, 873.5, 0, 0, 0.06},
		{"4 kW, 20 F", 4000 * w, 20 / 1.8, sea, 1070.0, 629.8, 633.6, 632.0, 0.05},
		{"10 kW, 15 K", 10_000 * w, 15, sea, 1981.5, 1166.3, 1173.3, 1170.4, 0.06},
	}
	for _, tt := range tests {
		f := Airflow(tt.heat, tt.rise, tt.density)
		near(t, tt.name+" in m3/h", CubicMetresAnHour(f), tt.m3h, tt.tol)
		near(t, tt.name+", the rise from the flow in m3/h", AirRise(tt.heat, quantity.Of(tt.m3h/3600, quantity.CubicMetrePerSecond), tt.density), tt.rise, 0.01)
		near(t, tt.name+" in cfm", CubicFeetAMinute(f), tt.cfm, tt.tol)
		if tt.byC > 0 {
			near(t, tt.name+" against 1.76 W/K", CubicFeetAMinute(f), tt.byC, 0.01*tt.byC)
			near(t, tt.name+" against 3.16 W/F", CubicFeetAMinute(f), tt.byF, 0.01*tt.byF)
		}
	}
	// A page says 12 000 BTU/h need about 1000 CFM at 10 °F; its own factor 1.08
	// gives 1111, and 5000 BTU/h 462.96 (CFM = BTU/h / (1.08 °F)).
	ton := Airflow(quantity.Of(3516.8528, w), 10/1.8, sea)
	near(t, "a ton at 10 F", CubicFeetAMinute(ton), 1111, 8)
	near(t, "5000 BTU/h at 10 F", CubicFeetAMinute(ton)*5/12, 462.96, 3.5)
	// ... and at 1500 m a fifth more than at sea level.
	ratio := float64(Airflow(1000*w, 10, AirDensity(1500*metre, 20*quantity.Celsius))) / float64(Airflow(1000*w, 10, AirDensity(0, 20*quantity.Celsius)))
	near(t, "1500 m against sea level", ratio, 1.198, 0.001)
	if Airflow(1000*w, 0, sea) != 0 || Airflow(1000*w, 10, 0) != 0 {
		t.Error("airflow without rise or density must be 0")
	}
}

func TestBTU(t *testing.T) {
	near(t, "1 W", BTUPerHour(1*w), 3.4121, 0.00005)
	near(t, "10 kW", BTUPerHour(10_000*w), 34_121.4, 0.05)
	near(t, "10 kW in tons", Tons(10_000*w), 2.843, 0.0005)
	near(t, "3516.8528 W in tons", Tons(quantity.Of(3516.8528, w)), 1, 1e-6)
}

func TestUnitsAgree(t *testing.T) {
	units := outside.Need(t, "units")
	ask := func(from, to string) float64 {
		text := outside.Run(t, "", units, "-t", from, to)
		f, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatalf("units -t %q %q printed %q", from, to, text)
		}
		return f
	}
	near(t, "1 W in BTU/h", BTUPerHour(1*w), ask("watt", "btu/hour"), 5e-7)
	near(t, "10 kW in tons of refrigeration", Tons(10_000*w), ask("10 kW", "tonref"), 5e-6)
	near(t, "1 l/s in cfm", CubicFeetAMinute(quantity.LitrePerSecond), ask("liter/second", "ft^3/minute"), 5e-7)
	near(t, "1 kg in N", quantity.In(Weight(1*kg), quantity.Newton), ask("kg gravity", "N"), 0.0005)
	near(t, "floor of 1000 kg", quantity.In(FloorPressure(1000*kg, AreaOf(600*mm, 1200*mm)), quantity.Kilopascal), ask("1000 kg gravity / (600 mm 1200 mm)", "kPa"), 5e-5)
	near(t, "moment of 20 kg", quantity.In(TwoPostMoment(20*kg, 600*mm), quantity.NewtonMetre), ask("20 kg gravity 300 mm", "N m"), 0.0006)
}

// psychrolib is the reference implementation of the ASHRAE Handbook's
// psychrometric formulas.
func TestPsychrolibAgrees(t *testing.T) {
	outside.NeedNode(t, "psychrolib")
	node := outside.Need(t, "node")
	const script = `
		const p = require('psychrolib'); p.SetUnitSystem(p.SI);
		const rows = [];
		for (const m of [0, 4, 300, 900, 1500, 1800, 2900, 3050, 4000])
			for (const c of [15, 20, 27, 35]) {
				const pa = p.GetStandardAtmPressure(m);
				rows.push([m, c, pa, p.GetDryAirDensity(c, pa)]);
			}
		const points = [];
		for (const c of [15, 18, 24, 27, 35]) for (const rh of [0.08, 0.5, 0.6, 0.9])
			points.push([c, rh, p.GetTDewPointFromRelHum(c, rh)]);
		const vapour = [];
		for (const c of [-20, -5, 0.5, 10, 20, 35, 60]) vapour.push([c, p.GetSatVapPres(c)]);
		console.log(JSON.stringify({rows, points, vapour}));`
	var out struct{ Rows, Points, Vapour [][]float64 }
	if err := json.NewDecoder(strings.NewReader(outside.Run(t, script, node))).Decode(&out); err != nil {
		t.Fatal(err)
	}
	if len(out.Rows) != 36 || len(out.Points) != 20 || len(out.Vapour) != 7 {
		t.Fatalf("psychrolib gave %d densities, %d dew points and %d pressures", len(out.Rows), len(out.Points), len(out.Vapour))
	}
	for _, v := range out.Vapour {
		near(t, fmt.Sprintf("pressure of saturated vapour at %g C", v[0]), math.Exp(lnSaturation(v[0]))/v[1], 1, 1e-5)
	}
	for _, r := range out.Rows {
		near(t, fmt.Sprintf("pressure at %g m", r[0]), quantity.In(Pressure(quantity.Of(r[0], metre)), quantity.Pascal), r[2], 0.01)
		near(t, fmt.Sprintf("density at %g m, %g C", r[0], r[1]), AirDensity(quantity.Of(r[0], metre), quantity.Of(r[1], quantity.Celsius)), r[3], 1e-5)
	}
	for _, p := range out.Points {
		near(t, fmt.Sprintf("dew point of %g C, %g", p[0], p[1]), DewPoint(quantity.Of(p[0], quantity.Celsius), p[1]).Degrees(), p[2], 0.02)
	}
}

// Computed with psychrolib; the box is that of the ASHRAE TC 9.9 reference card.
func TestDewPointDecides(t *testing.T) {
	near(t, "24 C, 50 %", DewPoint(24*quantity.Celsius, 0.5).Degrees(), 12.95, 0.02)
	near(t, "27 C, 60 %", DewPoint(27*quantity.Celsius, 0.6).Degrees(), 18.58, 0.02)
	if !Recommended(24*quantity.Celsius, 0.5) {
		t.Error("24 C and 50 % lie inside the recommended box")
	}
	if Recommended(27*quantity.Celsius, 0.6) {
		t.Error("27 C and 60 % have a dew point above 15 C, outside the recommended box")
	}
}

func TestInletClasses(t *testing.T) {
	tests := []struct {
		metres         quantity.Length
		a1, a2, a3, a4 float64
	}{
		{0, 32, 35, 40, 45},
		{900, 32, 35, 40, 45},
		{1800, 29.0, 32.0, 34.9, 37.8},
		{2900, 25.3, 28.3, 28.6, 29.0},
		{3050, 24.8, 27.8, 27.7, 27.8},
	}
	for _, tt := range tests {
		for i, want := range []float64{tt.a1, tt.a2, tt.a3, tt.a4} {
			c := InletClasses[i]
			near(t, fmt.Sprintf("%s at %d m", c.Name, tt.metres), c.HighestAt(tt.metres*metre).Degrees(), want, 0.05)
		}
	}
	if c, ok := InletClassNamed("a2"); !ok || c.Name != "A2" {
		t.Errorf("InletClassNamed(a2) = %v, %v", c, ok)
	}
	if _, ok := InletClassNamed("A5"); ok {
		t.Error("there is no class A5")
	}
}
