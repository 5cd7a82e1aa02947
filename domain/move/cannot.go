package move

import "unpick/domain"

// Cannot is a piece that nothing there is and nothing that is sold can make.
type Cannot struct {
	Element string `json:"element"`
	Name    string `json:"name"`
	Why     string `json:"why"`
	Mend    string `json:"what_to_do" jsonschema_description:"what is usual for such a piece; common practice, no source"`
}

func (p *Plan) cannot(e *domain.Element, why, mend string) {
	p.Cannot = append(p.Cannot, Cannot{e.Code, nameOf(p.register, e), why, mend})
}

// notSold is what is done where the section is not one that is sold.
const notSold = "log it in a section that is sold, or name the material that it is really of"

// mendOf is what is done where a piece of a kind is longer or larger than anything sold (common practice, no source). What
// stands up is never joined along its length; what lies is joined where something is under or behind the joint.
func mendOf(kind domain.ElementKind) string {
	switch kind {
	case domain.Stud:
		return "a stud is not joined along its length: find a longer length, or a wall of that height in another make-up, by who answers for its strength"
	case domain.Post, domain.GuardPost:
		return "a post is not joined along its length: find a longer length, or ask who designed it"
	case domain.SolePlate, domain.HeadPlate, domain.CapPlate:
		return "join the plate on a stud, each part with its own end fixings: log it in two pieces"
	case domain.Joist:
		return "join it on a bearing, a beam or a wall under the joint: log it in two pieces"
	case domain.Beam, domain.WallPlate:
		return "join it over a post or a bearing, as who designed it says: log it in two pieces, or find a longer length"
	case domain.Trimmer, domain.OpeningHead, domain.StairString, domain.StairTread:
		return "it spans free and is not joined: find a longer length or another section, as who designed it says"
	case domain.GuardRail, domain.ToeBoard:
		return "join it on the middle of a guard post: log it in two pieces"
	case domain.Batten, domain.Skirting, domain.Architrave, domain.Trim:
		return "join it on something behind the joint, with a mitred or a butt joint: log it in two pieces"
	case domain.DoorLining:
		return "a lining's leg is not joined: find a longer length, or a lower opening"
	case domain.Nogging, domain.Strutting, domain.Packer:
		return "it fits between two pieces and is not joined: set those closer, or find a longer length"
	case domain.Board, domain.DeckBoard:
		return "cut it in two with the joint on a stud, a joist or a nogging: log it in two pieces"
	case domain.Insulation:
		return "butt two pieces tight: log it in two pieces"
	}
	return "find it in that size, or log it in pieces that are sold"
}
