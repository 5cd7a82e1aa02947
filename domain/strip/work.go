package strip

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
)

// byHand is the tool of a piece that nothing holds.
const byHand = "hand"

// keyOf is the run that a piece belongs to: where it is, what it is, what it is reached from and undone with.
func (p *planner) keyOf(n int32) runKey {
	place := p.graph.Elements(n)[0]
	first := &p.r.Elements[place]
	key := runKey{Assembly: first.Assembly, Kind: first.Kind, Face: first.Face}
	key.Zone, p.levels[n] = p.places.of(n)
	key.Access = p.accessFor(n)
	key.Tool = p.toolFor(p.graph.Fixings(n))
	if first.Kind.IsService() {
		key.Tool = serviceTools[first.Kind]
		return key
	}
	if slices.ContainsFunc(p.graph.Fixings(n), func(f int32) bool { return p.r.Fixings[f].Known.Provisional() }) {
		key.Tool += ", " + clearingTools
	}
	return key
}

// serviceTools are what a service is taken out with, by the licensed person who does it, whatever clips it.
var serviceTools = map[domain.ElementKind]string{
	domain.Cable: "voltage tester, insulated tools",
	domain.Pipe:  "pipe tools, tray and cloths",
}

// toolFor is the tool that most of a piece's fixings are undone with; ties go to the first by name.
func (p *planner) toolFor(fixings []int32) string {
	if len(fixings) == 0 {
		return byHand
	}
	if first := p.r.Fixings[fixings[0]].Type; !slices.ContainsFunc(fixings, func(f int32) bool { return p.r.Fixings[f].Type != first }) {
		return p.rates.fixing(first).UndoTool
	}
	best, most := byHand, 0
	counts := map[string]int{}
	for _, f := range fixings {
		tool := p.rates.fixing(p.r.Fixings[f].Type).UndoTool
		counts[tool] += p.r.Fixings[f].Count
	}
	for tool, n := range counts {
		if n > most || n == most && tool < best {
			best, most = tool, n
		}
	}
	return best
}

// removal writes the step that takes a run of pieces out. It reads nothing that the walk changes.
func (p *planner) removal(nodes []int32, key runKey) Step {
	s := Step{Kind: Remove, Zone: key.Zone, Assembly: key.Assembly, Tool: key.Tool, Access: key.Access, People: 1,
		Elements: make([]string, 0, len(nodes)), Pieces: make([]PieceOut, 0, len(nodes))}
	minutes := 0.0
	var heavy []heavyLift
	for _, n := range nodes {
		work := 0.0
		work, heavy = p.pieceWork(&s, heavy, n, key)
		minutes += work
	}
	s.Cautions, s.Heavy = p.heavyCautions(heavy), p.heavyPieces(heavy)
	s.Lift = len(heavy) > 0 && key.Kind != domain.DeckBoard || lifted(key.Kind) || slices.ContainsFunc(nodes, func(n int32) bool { return len(p.graph.Elements(n)) > 1 })
	minutes += p.fixingWork(&s, nodes)
	s.PersonMinutes = max(ceil(minutes), 1)
	s.DurationMinutes = ceil(float64(s.PersonMinutes) / float64(s.People))
	s.Title = p.title(nodes, key)
	s.Who = licensed[key.Kind]
	s.Stand = stand(key, p.stands(nodes[0]) && len(heavy) == 0, s.DurationMinutes > p.rates.ladderMinutes())
	if len(heavy) > 0 && key.Access != FromFloor && key.Kind != domain.DeckBoard {
		s.Stand += "; its lifter has the piece before the last fixing is undone, and nobody holds it up"
	}
	if p.places.decks[key.Zone] && key.Kind != domain.DeckBoard {
		s.Stand = "on the deck, on boards that stay down until this is done"
	}
	s.Cautions = p.cautions(nodes, &s, key)
	s.Holds = p.holds(nodes, &s)
	s.Opens = p.opens(nodes)
	return s
}

// pieceWork adds a node's pieces to the step and returns the person-minutes of handling them, and the heavy lifts.
func (p *planner) pieceWork(s *Step, heavy []heavyLift, n int32, key runKey) (float64, []heavyLift) {
	elements := p.graph.Elements(n)
	minutes, mass, largest := 0.0, 0.0, 0
	for _, i := range elements {
		e := &p.r.Elements[i]
		out := PieceOut{Code: e.Code, Kind: e.Kind}
		if piece := p.pieces[i]; piece != nil {
			out.MassKg, out.Goes, out.Expected, out.Waste = piece.MassKg, piece.Goes, piece.Expected, piece.WasteCode
			if out.AskWaste = piece.ConditionalWaste; out.AskWaste {
				out.Waste = ""
			}
		}
		s.Elements = append(s.Elements, e.Code)
		s.Pieces = append(s.Pieces, out)
		s.Provisional = s.Provisional || e.Known.Provisional()
		rate := p.rates.takeDown(e.Kind)
		minutes += takeDown(rate, e)
		mass += out.MassKg
		largest = max(largest, e.LengthMm)
		s.People = max(s.People, rate.People)
	}
	if len(elements) > 1 {
		w := p.setRate(n)
		minutes = w.Minutes
		s.People = max(s.People, w.People)
	}
	s.MassKg += mass
	s.HeaviestKg = max(s.HeaviestKg, mass)
	heavy = p.crewFor(s, heavy, n, mass, largest, key)
	for _, f := range p.graph.Inside(n) {
		s.Inside = append(s.Inside, p.r.Fixings[f].Code)
	}
	return minutes, heavy
}

// takeDown is the person-minutes of handling one piece, by the unit of its work rate.
func takeDown(w *domain.WorkRate, e *domain.Element) float64 {
	switch w.Unit {
	case "m":
		return w.Minutes * float64(e.LengthMm) / 1000
	case "m2":
		return w.Minutes * e.FaceAreaM2()
	}
	return w.Minutes
}

// fixingWork lists what is undone, by type in order of slug, and returns its person-minutes.
func (p *planner) fixingWork(s *Step, nodes []int32) float64 {
	for _, n := range nodes {
		for _, i := range p.graph.Fixings(n) {
			f := &p.r.Fixings[i]
			if p.loosened[i] {
				continue
			}
			t := p.rates.fixing(f.Type)
			s.workOn(t, f.Type).add(f, t)
			s.Provisional = s.Provisional || f.Known.Provisional()
		}
	}
	slices.SortFunc(s.Fixings, func(a, b FixingWork) int { return cmp.Compare(a.Type, b.Type) })
	minutes := 0.0
	for _, w := range s.Fixings {
		minutes += w.Minutes
	}
	return minutes
}

// workOn is the step's work on one type of fixing, begun where there is none yet. A step undoes few types.
func (s *Step) workOn(t *domain.FixingType, slug string) *FixingWork {
	for i := range s.Fixings {
		if s.Fixings[i].Type == slug {
			return &s.Fixings[i]
		}
	}
	s.Fixings = append(s.Fixings, FixingWork{Type: slug, Name: t.Name, Tool: t.UndoTool, Release: t.Release})
	return &s.Fixings[len(s.Fixings)-1]
}

// clearHeadMinutes is what it takes to find and clear a head that nobody has seen: filled, painted over, or not where
// it is taken to be (common practice, no source).
const clearHeadMinutes = 1.5

// clearingTools is what finds and clears such heads, beside the tool that undoes them.
const clearingTools = "magnet and scraper for heads nobody has seen"

func (w *FixingWork) add(f *domain.Fixing, t *domain.FixingType) {
	if f.Known.Provisional() && t.UndoUnit != "m" {
		w.Unseen += f.Count
		w.Minutes += clearHeadMinutes * float64(f.Count)
	}
	w.Count += f.Count
	w.Codes = append(w.Codes, f.Code)
	amount := float64(f.Count)
	if t.UndoUnit == "m" {
		amount = float64(f.BeadMm) / 1000
		w.Metres += amount
	}
	if t.UndoPerHour > 0 {
		w.Minutes += amount / t.UndoPerHour * 60
	}
}

// setWords say how pieces that leave together leave, by the lifter that would take them.
var setWords = map[string]string{
	"lifter-stair": "Lower the stair %s as one",
	"lifter-door":  "Take out the door and frame %s as one set",
	"lifter-frame": "Ease out %s and take it out as one",
}

func (p *planner) title(nodes []int32, key runKey) string {
	if len(p.graph.Elements(nodes[0])) > 1 {
		return fmt.Sprintf(setWords[p.lifterFor(nodes[0])], p.list(nodes))
	}
	if e := &p.r.Elements[p.graph.Elements(nodes[0])[0]]; key.Kind == domain.OtherPiece && len(nodes) == 1 && e.Name != "" {
		return "Take out " + e.Name + ", " + e.Code
	}
	noun := plainKind(key.Kind, len(nodes))
	out := "Take out "
	if key.Kind.IsService() {
		out = "Disconnect and take out "
	}
	title := out + strconv.Itoa(len(nodes)) + " " + noun
	if key.Face != "" {
		title += ", face " + key.Face
	}
	if a := p.graph.Links.AssemblyOf[p.graph.Elements(nodes[0])[0]]; a >= 0 {
		title += ", " + key.Assembly + " " + p.r.Assemblies[a].Name
	}
	return title
}

// Counted says how many pieces of which kind some codes are: "13 deck boards", or "7 pieces" where they differ.
func Counted(r *domain.Register, codes []string) string {
	kind := domain.ElementKind("")
	for i := range r.Elements {
		if e := &r.Elements[i]; slices.Contains(codes, e.Code) {
			if kind != "" && kind != e.Kind {
				return strconv.Itoa(len(codes)) + " pieces"
			}
			kind = e.Kind
		}
	}
	return strconv.Itoa(len(codes)) + " " + plainKind(kind, len(codes))
}

// plainKind is a kind as one says it: "sole plates", "door leaf".
func plainKind(kind domain.ElementKind, n int) string {
	word := strings.ReplaceAll(string(kind), "-", " ")
	if kind == domain.OtherPiece {
		word = "piece"
	}
	if n == 1 || kind == domain.Insulation {
		return word
	}
	if kind == domain.DoorLeaf {
		return "door leaves"
	}
	return word + "s"
}

// list names nodes, the first few in full.
func (p *planner) list(nodes []int32) string {
	const most = 6
	names := make([]string, 0, most)
	for i, n := range nodes {
		if i == most {
			return strings.Join(names, ", ") + fmt.Sprintf(" and %d more", len(nodes)-most)
		}
		names = append(names, p.graph.Nodes[n].Code)
	}
	return strings.Join(names, ", ")
}

// opens says what the step lays bare in the landlord's fabric.
func (p *planner) opens(nodes []int32) []string {
	counts := map[string]int{}
	for _, n := range nodes {
		for _, i := range p.graph.Fixings(n) {
			f := &p.r.Fixings[i]
			if f.IntoHost != "" && p.rates.fixing(f.Type).MakesHole() {
				counts[f.IntoHost] += f.Count
			}
		}
	}
	var out []string
	for host, n := range counts {
		out = append(out, fmt.Sprintf("%d holes in %s", n, host))
	}
	slices.Sort(out)
	return out
}

func ceil(minutes float64) int { return int(math.Ceil(minutes - 1e-9)) }
