package fd

// ROS34PW2 (Rang and Angermann, BIT 45, 2005; from memory). α and Γ as
// published; the transformed coefficients, which need no product with the
// Jacobian, follow Hairer and Wanner, Solving Ordinary Differential Equations
// II, section IV.7.
const gamma = 4.3586652150845900e-01

var alpha = [4][4]float64{
	{},
	{8.7173304301691801e-01},
	{8.4457060015369423e-01, -1.1299064236484185e-01},
	{0, 0, 1},
}

var gammaij = [4][4]float64{
	{gamma},
	{-8.7173304301691801e-01, gamma},
	{-9.0338057013044082e-01, 5.4180672388095326e-02, gamma},
	{2.4212380706095346e-01, -1.2232505839045147e+00, 5.4526025533510214e-01, gamma},
}

var bi = [4]float64{2.4212380706095346e-01, -1.2232505839045147e+00, 1.5452602553351020e+00, gamma}
var bhat = [4]float64{3.7810903145819369e-01, -9.6042292212423178e-02, 5.0000000000000000e-01, 2.1793326075422950e-01}

var (
	aij, cij [4][4]float64 // α·Γ⁻¹, diag(1/γ) − Γ⁻¹
	mi, ei   [4]float64    // b·Γ⁻¹, (b − b̂)·Γ⁻¹
	ci, gi   [4]float64    // row sums of α and Γ
	gammaInv = invertLower(gammaij)
)

func invertLower(g [4][4]float64) (inv [4][4]float64) {
	for c := range 4 {
		for r := c; r < 4; r++ {
			v := 0.0
			if r == c {
				v = 1
			}
			for k := c; k < r; k++ {
				v -= g[r][k] * inv[k][c]
			}
			inv[r][c] = v / g[r][r]
		}
	}
	return inv
}

func init() {
	for r := range 4 {
		for c := range 4 {
			for k := range 4 {
				aij[r][c] += alpha[r][k] * gammaInv[k][c]
			}
			cij[r][c] = -gammaInv[r][c]
			mi[c] += bi[r] * gammaInv[r][c]
			ei[c] += (bi[r] - bhat[r]) * gammaInv[r][c]
			ci[r] += alpha[r][c]
			gi[r] += gammaij[r][c]
		}
	}
}
