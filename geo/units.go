package geo

// Exact by definition: the hectare is 10⁴ m² (SI Brochure, 9th edition, table
// 8), the international foot 0.3048 m (NIST SP 811, 2008, appendix B), the
// international acre 4840 square yards of 0.9144 m.
const (
	SquareMetresPerHectare = 10000.0
	SquareMetresPerAcre    = 4840 * 0.9144 * 0.9144 // 4046.8564224
	MetresPerFoot          = 0.3048
)

// Exact by definition: the US gallon is 231 cubic inches of 25.4 mm, the international
// mile 5280 feet (NIST SP 811, 2008, appendix B).
const (
	HectaresPerAcre           = SquareMetresPerAcre / SquareMetresPerHectare // 0.40468564224
	SquareMetresPerSquareFoot = MetresPerFoot * MetresPerFoot
	MetresPerMile             = 5280 * MetresPerFoot              // 1609.344
	LitresPerGallon           = 231 * 0.254 * 0.254 * 0.254       // 3.785411784
	LitresHaPerGallonAc       = LitresPerGallon / HectaresPerAcre // 9.3539…
	MetresSPerMileHour        = MetresPerMile / 3600              // 0.44704
	MetresSPerKilometreHour   = 1000.0 / 3600
)
