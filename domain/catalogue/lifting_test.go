package catalogue

import "testing"

// HSE L23 (4th edition, 2016), lifting and lowering filter: the figures from memory, the team factors and examples
// read in guidance that quotes them.
func TestLiftingGuide(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		sex, height, reach string
		people             int
		want               float64 // 0 is no figure
	}{
		{Men, AboveShoulder, CloseToBody, 1, 10}, {Men, ElbowToShoulder, CloseToBody, 1, 20}, {Men, KnuckleToElbow, CloseToBody, 1, 25},
		{Men, MidlegToKnuckle, CloseToBody, 1, 20}, {Men, FloorToMidleg, CloseToBody, 1, 10},
		{Men, AboveShoulder, ArmsLength, 1, 5}, {Men, ElbowToShoulder, ArmsLength, 1, 10}, {Men, KnuckleToElbow, ArmsLength, 1, 15},
		{Men, MidlegToKnuckle, ArmsLength, 1, 10}, {Men, FloorToMidleg, ArmsLength, 1, 5},
		{Women, AboveShoulder, CloseToBody, 1, 7}, {Women, ElbowToShoulder, CloseToBody, 1, 13}, {Women, KnuckleToElbow, CloseToBody, 1, 16},
		{Women, MidlegToKnuckle, CloseToBody, 1, 13}, {Women, FloorToMidleg, CloseToBody, 1, 7},
		{Women, AboveShoulder, ArmsLength, 1, 3}, {Women, ElbowToShoulder, ArmsLength, 1, 7}, {Women, KnuckleToElbow, ArmsLength, 1, 10},
		{Women, MidlegToKnuckle, ArmsLength, 1, 7}, {Women, FloorToMidleg, ArmsLength, 1, 3},
		{Men, ElbowToShoulder, CloseToBody, 2, 26.67}, // 20 each: published as 26.6
		{Men, KnuckleToElbow, CloseToBody, 2, 33.33}, {Men, KnuckleToElbow, CloseToBody, 3, 37.5},
		{Women, KnuckleToElbow, CloseToBody, 2, 21.33}, {Women, KnuckleToElbow, CloseToBody, 3, 24},
		{Men, AboveShoulder, CloseToBody, 2, 13.33}, {Men, AboveShoulder, CloseToBody, 3, 15}, // the factor goes on the band's figure
		{Men, KnuckleToElbow, CloseToBody, 4, 0}, {Men, KnuckleToElbow, CloseToBody, 0, 0}, {Men, KnuckleToElbow, CloseToBody, -1, 0},
		{Men, "waist", CloseToBody, 1, 0}, {"", KnuckleToElbow, CloseToBody, 1, 0},
	} {
		got, ok := LiftingGuide(Default(), tt.sex, tt.height, tt.reach, tt.people)
		if ok != (tt.want > 0) || !near(got, tt.want, 0.001) {
			t.Errorf("LiftingGuide(%s, %s, %s, %d) = %.2f, %v; want %v", tt.sex, tt.height, tt.reach, tt.people, got, ok, tt.want)
		}
	}
}

// A sheet of 18 mm OSB (33.6 kg) is just over two men at waist height; a 12.5 mm plasterboard (24.8 kg) overhead is
// over three, and wants a lifter.
func TestPeopleFor(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		height string
		massKg float64
		want   int
		ok     bool
	}{
		{KnuckleToElbow, 4.4, 1, true}, {KnuckleToElbow, 24.8, 1, true}, {KnuckleToElbow, 33.3, 2, true}, {KnuckleToElbow, 33.6, 3, true},
		{KnuckleToElbow, 38.3, 0, false}, {AboveShoulder, 24.8, 0, false}, {AboveShoulder, 13.3, 2, true},
	} {
		got, ok := PeopleFor(Default(), Men, tt.height, CloseToBody, tt.massKg)
		if got != tt.want || ok != tt.ok {
			t.Errorf("PeopleFor(men, %s, %v kg) = %d, %v; want %d, %v", tt.height, tt.massKg, got, ok, tt.want, tt.ok)
		}
	}
}

// Reductions of the same filter: twisting 45 and 90 degrees, lifts a minute. Figures confirmed on pages that quote L23.
func TestHandlingFactors(t *testing.T) {
	t.Parallel()
	for key, want := range map[string]float64{"twist-45": 0.9, "twist-90": 0.8, "freq-1-2": 0.7, "freq-5-8": 0.5, "freq-12": 0.2, "carry-distance": 10, "team-max": 4} {
		if got := Default().Handling[key].Value; got != want {
			t.Errorf("handling %s = %v, want %v", key, got, want)
		}
	}
}
