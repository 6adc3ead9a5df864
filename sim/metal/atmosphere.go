package metal

import (
	"fmt"
	"strings"
)

// Atmosphere is what a face stands in: how it takes carbon out and how it feeds
// the scale.
type Atmosphere struct {
	Name string
	// Transfer is how fast gas and steel exchange carbon, m/s, times the
	// difference of potential. 0: sealed. From about 1e-5 on the surface
	// stands at the gas's potential.
	Transfer float64
	// Potential is the carbon the gas would leave in plain austenite, wt %.
	Potential float64
	// Oxidises is the factor on the parabolic constant of the scale; 0: no
	// scale grows.
	Oxidises float64
	// Supply is the most oxygen the gas delivers, kg/(m2 s); 0: no limit. Where
	// it limits, scale grows in proportion to time.
	Supply float64
	// Assumed says in a sentence what of this is an assumption.
	Assumed string
}

// Sealed lets nothing through: a joint, a welded canister.
var Sealed = Atmosphere{Name: "sealed"}

// atmospheres by name. Products of natural gas with 112 % of the air it needs
// grew scale with the root of time, as air does; with 95 to 101 % in proportion
// to time, CO2 and steam being the oxidants (Lee, Gleeson and Young, Oxid. Met. 63
// (2005) 15, abstract read). The supply of oxygen in proportion to time: 0.02 m/s
// times 1 % O2 at 1500 K and as much again from CO2 and steam at stoichiometry;
// CO2 and steam alone, less, in a rich flame: estimates, good to a factor of
// three. At welding heat the equilibrium carbon of all three is next to nothing;
// what differs is how fast the gas takes it: at once under a lean flame's
// wüstite, at ten and at twice the 1e-7 m/s of carburising gas (from memory) in
// the others.
var atmospheres = []Atmosphere{
	{Name: "lean", Transfer: 1e-4, Oxidises: 1,
		Assumed: "lean flame: scale as in air, good to 40 %; surface carbon held at nothing"},
	{Name: "neutral", Transfer: 1e-6, Oxidises: 1, Supply: 1e-4,
		Assumed: "neutral flame: scale in proportion to time at 1e-4 kg/m2s of oxygen, carbon exchange 1e-6 m/s; both good to a factor of three"},
	{Name: "rich", Transfer: 2e-7, Oxidises: 1, Supply: 3e-5,
		Assumed: "rich flame: scale in proportion to time at 3e-5 kg/m2s of oxygen, carbon exchange 2e-7 m/s; both good to a factor of three"},
	{Name: "air", Transfer: 1e-4, Oxidises: 1,
		Assumed: "air: parabolic scale, good to 40 %; surface carbon held at nothing"},
	Sealed,
}

// AtmosphereByName returns lean, neutral, rich, air or sealed.
func AtmosphereByName(name string) (Atmosphere, error) {
	var names []string
	for _, a := range atmospheres {
		if strings.EqualFold(a.Name, strings.TrimSpace(name)) {
			return a, nil
		}
		names = append(names, a.Name)
	}
	return Atmosphere{}, fmt.Errorf("atmosphere %q; %s", name, strings.Join(names, ", "))
}

// fluxShare is what molten borax leaves of scale and of the loss of carbon:
// common practice says "much less", no source gives a number; assumed.
const fluxShare = 0.2

// Fluxed is the atmosphere under a cover of molten borax (melts at 743 C, from
// memory): a fifth of the scale and of the exchange of carbon; assumed.
func (a Atmosphere) Fluxed() Atmosphere {
	a.Name += ", fluxed"
	a.Transfer *= fluxShare
	a.Oxidises *= fluxShare * fluxShare // thickness goes with the root
	a.Supply *= fluxShare
	a.Assumed += "; flux cover lets a fifth through, assumed"
	return a
}
