package advice

import "math"

// turned tries every tenth of a degree.
func turned(p, q, a, b float64) bool {
	for i := range 901 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 1800)
		if p*cos+q*sin <= a && p*sin+q*cos <= b {
			return true
		}
	}
	return false
}
