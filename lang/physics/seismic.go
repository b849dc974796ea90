package physics

// Anchorage holds what ASCE 7-16, equations 13.3-1 to 13.3-3, asks about a
// component and its place. The edition matters: ASCE 7-22 replaced the
// factors, and one must not be used with the other's formula.
type Anchorage struct {
	Amplification float64 // ap: 2.5 for sheet metal cabinets, 1.0 for computers (table 13.6-1, from memory, unverified)
	Response      float64 // Rp: 6.0 and 2.5 for the same
	Importance    float64 // Ip: 1.0 or 1.5
	Acceleration  float64 // SDS, in g: of the site, from the code's maps
	Height        float64 // z/h: height of the floor as a share of the building's, 0 at grade
}

// A ScreeningForce is a horizontal force as a share of the weight.
type ScreeningForce struct {
	Formula float64 // 0.4 ap SDS (1 + 2 z/h) / (Rp/Ip)
	Most    float64 // 1.6 SDS Ip
	Least   float64 // 0.3 SDS Ip
	Governs float64
	Edition string // "ASCE 7-16"
}

// Force gives the screening force. At grade the least value often governs.
// Anchors and bracing are an engineer's design; this is no verdict on them.
func (a Anchorage) Force() ScreeningForce {
	f := ScreeningForce{Most: 1.6 * a.Acceleration * a.Importance, Least: 0.3 * a.Acceleration * a.Importance, Edition: "ASCE 7-16"}
	if a.Response > 0 && a.Importance > 0 {
		f.Formula = 0.4 * a.Amplification * a.Acceleration * (1 + 2*a.Height) / (a.Response / a.Importance)
	}
	f.Governs = max(f.Least, min(f.Formula, f.Most))
	return f
}
