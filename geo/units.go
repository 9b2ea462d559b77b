package geo

// Exact by definition: the hectare is 10⁴ m² (SI Brochure, 9th edition, table
// 8), the international foot 0.3048 m (NIST SP 811, 2008, appendix B), the
// international acre 4840 square yards of 0.9144 m.
const (
	SquareMetresPerHectare = 10000.0
	SquareMetresPerAcre    = 4840 * 0.9144 * 0.9144 // 4046.8564224
	MetresPerFoot          = 0.3048
)
