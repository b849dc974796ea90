package physics

import (
	"math"

	"cagenut/lang/quantity"
)

const (
	airGas   = 287.042 // J/(kg K), gas constant of dry air (ASHRAE Handbook Fundamentals, ch. 1)
	airHeat  = 1006.0  // J/(kg K), specific heat of dry air at room temperature
	zeroKelv = 273.15
	seaLevel = 101_325.0 // Pa
)

// Pressure gives the pressure of the standard atmosphere at an altitude
// (ASHRAE Handbook Fundamentals, ch. 1, eq. 3; good from -5 to 11 km).
func Pressure(altitude quantity.Length) quantity.Pressure {
	h := quantity.In(altitude, quantity.Metre)
	return quantity.Of(seaLevel*math.Pow(1-2.25577e-5*h, 5.2559), quantity.Pascal)
}

// AirDensity gives the density of dry air in kg/m3.
func AirDensity(altitude quantity.Length, t quantity.Temperature) float64 {
	p := quantity.In(Pressure(altitude), quantity.Pascal)
	return p / (airGas * (t.Degrees() + zeroKelv))
}

// Airflow gives the air that carries heat away at a rise of temperature from
// inlet to outlet: heat / (density cp rise). The rise is in kelvin, the density
// in kg/m3 ([AirDensity]); a rise or density of nothing gives 0.
//
// Handbooks print rules such as 3.16 W/°F in cubic feet a minute. They hold at
// sea level only: at 1500 m a fifth more air is needed.
func Airflow(heat quantity.Power, rise, density float64) quantity.Flow {
	if rise <= 0 || density <= 0 {
		return 0
	}
	return quantity.Of(heat.Watts()/(density*airHeat*rise), quantity.CubicMetrePerSecond)
}

// AirRise gives the rise of temperature in kelvin of the air that carries heat
// away, the other way round from [Airflow]. A flow or density of nothing gives
// 0.
func AirRise(heat quantity.Power, flow quantity.Flow, density float64) float64 {
	if flow <= 0 || density <= 0 {
		return 0
	}
	return heat.Watts() / (density * airHeat * quantity.In(flow, quantity.CubicMetrePerSecond))
}

// CubicMetresAnHour gives a flow in m3/h.
func CubicMetresAnHour(f quantity.Flow) float64 {
	return quantity.In(f, quantity.CubicMetrePerSecond) * 3600
}

// CubicFeetAMinute gives a flow in cubic feet (of 28 316.846 592 cm3) a minute.
func CubicFeetAMinute(f quantity.Flow) float64 {
	return float64(f) * 60 / 28_316.846592
}

// BTUPerHour gives a power in BTU/h. Three definitions of the BTU differ in the
// sixth digit, so print five: 1 W is 3.4121 BTU/h. This is the international
// table BTU of 1055.055 852 62 J.
func BTUPerHour(p quantity.Power) float64 { return p.Watts() * 3600 / 1055.05585262 }

// Tons gives a power in tons of refrigeration of 12 000 BTU/h.
func Tons(p quantity.Power) float64 { return BTUPerHour(p) / 12_000 }

// DewPoint gives the temperature at which air of temperature t and relative
// humidity rh (0 to 1] begins to condense over water, to about 0.01 K between
// 0 and 60 °C (Hyland and Wexler, in ASHRAE Handbook Fundamentals, ch. 1).
func DewPoint(t quantity.Temperature, rh float64) quantity.Temperature {
	vapour := math.Log(rh) + lnSaturation(t.Degrees())
	lo, hi := -60.0, t.Degrees()
	for range 60 {
		mid := (lo + hi) / 2
		if lnSaturation(mid) < vapour {
			lo = mid
		} else {
			hi = mid
		}
	}
	return quantity.Of(hi, quantity.Celsius)
}

// lnSaturation gives the logarithm of the saturation pressure of water vapour
// in pascals, over ice below the triple point.
func lnSaturation(celsius float64) float64 {
	k := celsius + zeroKelv
	if celsius < 0.01 {
		return -5.6745359e3/k + 6.3925247 - 9.677843e-3*k + 6.2215701e-7*k*k +
			2.0747825e-9*k*k*k - 9.484024e-13*k*k*k*k + 4.1635019*math.Log(k)
	}
	return -5.8002206e3/k + 1.3914993 - 4.8640239e-2*k + 4.1764768e-5*k*k -
		1.4452093e-8*k*k*k + 6.5459673*math.Log(k)
}
