package recipe

import "unpick/domain"

// Mezzanine is a timber floor on wall plates or beams: joists, strutting, deck, trimmed openings, stairs and
// guards. Its frame: x along the direction in which the joists are set out, y along the joists, to the left of x,
// z up from the floor that the posts stand on. The deck fills x 0 to AlongMm and y 0 to AcrossMm. Every size is
// given: nothing here sizes a joist, a plate, a post or an anchor.
type Mezzanine struct {
	Origin   domain.Point       `json:"origin" jsonschema_description:"corner of the deck on plan, at the level of the floor below"`
	Along    domain.Direction   `json:"along" jsonschema_description:"direction on plan in which the joists are set out; the joists run to the left of it"`
	AlongMm  int                `json:"along_mm" jsonschema:"minimum=600,maximum=60000" jsonschema_description:"size of the deck along it, which is the run of the deck boards"`
	AcrossMm int                `json:"across_mm" jsonschema:"minimum=600,maximum=60000" jsonschema_description:"size of the deck across it"`
	LevelMm  int                `json:"level_mm" jsonschema:"minimum=300,maximum=10000" jsonschema_description:"top of the deck above the origin"`
	Carriers []MezzanineCarrier `json:"carriers" jsonschema_description:"what carries the joists, at the near end, the far end and between"`
	Joists   MezzanineJoists    `json:"joists"`
	Deck     MezzanineDeck      `json:"deck"`
	Edges    MezzanineEdges     `json:"edges"`
	Openings []MezzanineOpening `json:"openings,omitempty"`
	Stairs   []MezzanineStair   `json:"stairs,omitempty"`
	Guard    *MezzanineGuard    `json:"guard,omitempty" jsonschema_description:"the guard along every open edge; without it each open edge needs its unguarded_reason"`
}

// Section is what a piece is cut from. A size left out is the material's own.
type Section struct {
	Material    string `json:"material"`
	ThicknessMm int    `json:"thickness_mm,omitempty" jsonschema:"minimum=0,maximum=1000"`
	DepthMm     int    `json:"depth_mm,omitempty" jsonschema:"minimum=0,maximum=2000" jsonschema_description:"the larger size of the section"`
}

// DesignedFixing is a set of fixings as somebody decided it: which, how many, and why where it needs a reason.
type DesignedFixing struct {
	Type     string `json:"type"`
	Count    int    `json:"count" jsonschema:"minimum=1,maximum=1000"`
	LengthMm int    `json:"length_mm,omitempty" jsonschema:"minimum=0,maximum=1000"`
	EndMm    int    `json:"end_mm,omitempty" jsonschema:"minimum=0,maximum=1000" jsonschema_description:"first one from the end of the run; 0 reads as 150"`
	DepthMm  int    `json:"depth_mm,omitempty" jsonschema:"minimum=0,maximum=1000" jsonschema_description:"depth of the hole; 0 takes the type's usual"`
	Reason   string `json:"reason,omitempty"`
}

// MezzanineCarrier is one wall plate or one beam. Several may make one line across the deck.
type MezzanineCarrier struct {
	Kind     string             `json:"kind" jsonschema:"enum=wall-plate,enum=beam"`
	Side     string             `json:"side" jsonschema:"enum=near,enum=far,enum=between" jsonschema_description:"near is y = 0, far the other end of the joists"`
	AtMm     int                `json:"at_mm,omitempty" jsonschema:"minimum=0,maximum=60000" jsonschema_description:"for one between: its near face"`
	FromMm   int                `json:"from_mm,omitempty" jsonschema:"minimum=0,maximum=60000" jsonschema_description:"where it starts along x"`
	ToMm     int                `json:"to_mm,omitempty" jsonschema:"minimum=0,maximum=60000" jsonschema_description:"where it ends along x; 0 is the end of the deck"`
	Section  Section            `json:"section"`
	Plies    int                `json:"plies,omitempty" jsonschema:"minimum=0,maximum=2" jsonschema_description:"pieces side by side in a beam; 0 reads as 1"`
	Host     string             `json:"host,omitempty" jsonschema_description:"for a wall plate: the landlord's surface behind it"`
	Wall     string             `json:"wall,omitempty" jsonschema_description:"for a wall plate: the assembly whose studs are behind it"`
	Elements []string           `json:"elements,omitempty" jsonschema_description:"for a wall plate: the pieces behind it, one by one"`
	Fixing   *DesignedFixing    `json:"fixing,omitempty" jsonschema_description:"for a wall plate: the designer's anchors, in all; into studs, how many into each"`
	Posts    []MezzaninePost    `json:"posts,omitempty" jsonschema_description:"for a beam"`
	Brackets []MezzanineBracket `json:"brackets,omitempty" jsonschema_description:"for a beam: steel angles under its ends, on a surface there"`
}

// MezzaninePost stands on a steel base plate with two ears along x and carries a beam.
type MezzaninePost struct {
	AtMm    int            `json:"at_mm" jsonschema:"minimum=0,maximum=60000" jsonschema_description:"middle of the post along x"`
	Section Section        `json:"section"`
	Host    string         `json:"host" jsonschema_description:"the surface that it stands on"`
	Base    DesignedFixing `json:"base" jsonschema_description:"the designer's anchors through the base plate"`
}

// MezzanineBracket is a steel angle under the start or the end of a beam, on the surface that the beam meets.
type MezzanineBracket struct {
	End    string         `json:"end" jsonschema:"enum=start,enum=end"`
	Host   string         `json:"host"`
	Fixing DesignedFixing `json:"fixing"`
}

// MezzanineJoists says how the joists are set out and how they are carried.
type MezzanineJoists struct {
	Section    Section          `json:"section"`
	CentresMm  int              `json:"centres_mm" jsonschema:"minimum=100,maximum=2400"`
	Carried    string           `json:"carried" jsonschema:"enum=hangers,enum=bearing" jsonschema_description:"in hangers between the carriers, or on top of them"`
	Hanger     *MezzanineHanger `json:"hanger,omitempty" jsonschema_description:"for hangers, and for the trimmers of an opening"`
	Strutting  *Section         `json:"strutting,omitempty" jsonschema_description:"section of the strutting; left out, the joists' own. One row over 2.5 m of span, two over 4.5 m"`
	NoStrut    string           `json:"no_strutting_reason,omitempty"`
	BearScrews int              `json:"bearing_screws,omitempty" jsonschema:"minimum=0,maximum=10" jsonschema_description:"structural screws at each bearing; 0 reads as 2"`
}

// MezzanineHanger is the hanger and what fills its holes: one in every hole of the type stated for it.
type MezzanineHanger struct {
	Material    string `json:"material,omitempty" jsonschema_description:"empty reads as hanger-47"`
	Fixing      string `json:"fixing,omitempty" jsonschema_description:"empty reads as connector-screw-5x40; nails need a reason, because they spoil the hanger and the timber"`
	IntoCarrier int    `json:"into_carrier,omitempty" jsonschema:"minimum=0,maximum=100" jsonschema_description:"0 reads as 20; read the hanger"`
	IntoJoist   int    `json:"into_joist,omitempty" jsonschema:"minimum=0,maximum=100" jsonschema_description:"0 reads as 10; read the hanger"`
	Reason      string `json:"reason,omitempty" jsonschema_description:"why nails"`
}

// MezzanineDeck is the boarding.
type MezzanineDeck struct {
	Material    string `json:"material" jsonschema_description:"p5-18-tg, p5-22-tg, p6-38-tg, ..."`
	SquareEdged bool   `json:"square_edged,omitempty" jsonschema_description:"no tongues: boards come up in any order"`
	GapMm       int    `json:"gap_mm,omitempty" jsonschema:"minimum=0,maximum=50" jsonschema_description:"at walls; 0 reads as 10"`
	Screw       string `json:"screw,omitempty" jsonschema_description:"empty reads as sheet-screw-4-5x50"`
	Glued       bool   `json:"glued,omitempty" jsonschema_description:"adhesive in the joints and on the joists: the deck is then used once"`
}

// MezzanineEdges says what each side of the deck is. An edge against a wall is not open.
type MezzanineEdges struct {
	Near  MezzanineEdge `json:"near"`
	Far   MezzanineEdge `json:"far"`
	Left  MezzanineEdge `json:"left" jsonschema_description:"x = 0"`
	Right MezzanineEdge `json:"right"`
}

// MezzanineEdge is one side of the deck.
type MezzanineEdge struct {
	Is        string `json:"is" jsonschema:"enum=wall,enum=open"`
	Unguarded string `json:"unguarded_reason,omitempty" jsonschema_description:"why an open edge has no guard"`
}

// MezzanineOpening is a hole in the deck, trimmed: joists doubled along its sides, trimmers across its ends, cut
// joists hung in them. All its sides are open edges.
type MezzanineOpening struct {
	Name         string `json:"name,omitempty"`
	XMm          int    `json:"x_mm" jsonschema:"minimum=0,maximum=60000"`
	YMm          int    `json:"y_mm" jsonschema:"minimum=0,maximum=60000"`
	AlongMm      int    `json:"along_mm" jsonschema:"minimum=300,maximum=60000" jsonschema_description:"clear size along x"`
	AcrossMm     int    `json:"across_mm" jsonschema:"minimum=300,maximum=60000" jsonschema_description:"clear size along the joists"`
	TrimmerPlies int    `json:"trimmer_plies,omitempty" jsonschema:"minimum=0,maximum=2" jsonschema_description:"0 reads as 2"`
	Unguarded    string `json:"unguarded_reason,omitempty"`
}

// MezzanineStair is a straight flight down from an edge: two strings and treads between them, the last tread
// flush with the deck.
type MezzanineStair struct {
	Edge     string          `json:"edge" jsonschema:"enum=near,enum=far,enum=left,enum=right" jsonschema_description:"the edge that it leads to"`
	Opening  int             `json:"opening,omitempty" jsonschema:"minimum=0,maximum=100" jsonschema_description:"1 is the first opening: the edge is then that side of it"`
	AtMm     int             `json:"at_mm" jsonschema:"minimum=0,maximum=60000" jsonschema_description:"its lesser side along that edge, in the deck's axes"`
	WidthMm  int             `json:"width_mm" jsonschema:"minimum=400,maximum=3000" jsonschema_description:"over the strings"`
	RiseMm   int             `json:"rise_mm" jsonschema:"minimum=100,maximum=300" jsonschema_description:"most a step may rise; the level is shared out in equal steps"`
	GoingMm  int             `json:"going_mm" jsonschema:"minimum=150,maximum=500"`
	Strings  Section         `json:"strings"`
	Treads   Section         `json:"treads"`
	Head     DesignedFixing  `json:"head" jsonschema_description:"how each string is held at its head"`
	Foot     *DesignedFixing `json:"foot,omitempty" jsonschema_description:"how each string is held to the floor; left out, it stands"`
	FootHost string          `json:"foot_host,omitempty"`
	// Handrail came with version 3 of the fit-out file.
	Handrail *MezzanineHandrail `json:"handrail,omitempty" jsonschema_description:"left out, a stair over 600 is warned of"`
}

// MezzanineHandrail stands on the strings of a stair: posts, a rail on their inner side, and rails under it where a side
// of the stair is open. It comes off before the stair is laid down.
type MezzanineHandrail struct {
	Sides      string         `json:"sides,omitempty" jsonschema:"enum=both,enum=left,enum=right" jsonschema_description:"as one goes down; empty reads as both"`
	HeightMm   int            `json:"height_mm,omitempty" jsonschema:"minimum=0,maximum=1200" jsonschema_description:"top of the rail, plumb above the line of the steps' edges; 0 reads as 900"`
	Rail       Section        `json:"rail"`
	Post       Section        `json:"post" jsonschema_description:"no thicker than the strings"`
	MidRails   int            `json:"mid_rails,omitempty" jsonschema:"minimum=0,maximum=10" jsonschema_description:"under the handrail, of its section; 0 is none, for a side against a wall"`
	PostsAtMm  int            `json:"posts_at_mm,omitempty" jsonschema:"minimum=0,maximum=3000" jsonschema_description:"most between posts along the slope; 0 reads as 1200"`
	PostFixing DesignedFixing `json:"post_fixing" jsonschema_description:"into the string, for each post"`
	RailScrew  string         `json:"rail_screw,omitempty" jsonschema_description:"empty reads as wood-screw-5x80"`
}

// MezzanineGuard is a guard rail outside the deck: posts bolted to the edge through a packer, rails and a toe
// board on their inner side.
type MezzanineGuard struct {
	HeightMm   int            `json:"height_mm" jsonschema:"minimum=800,maximum=2000" jsonschema_description:"top of the top rail above the deck"`
	Post       Section        `json:"post"`
	Rail       Section        `json:"rail" jsonschema_description:"on edge; its thickness is the packer's too"`
	ToeBoard   Section        `json:"toe_board"`
	MidRails   int            `json:"mid_rails,omitempty" jsonschema:"minimum=0,maximum=10" jsonschema_description:"0 reads as 1"`
	PostsAtMm  int            `json:"posts_at_mm" jsonschema:"minimum=300,maximum=3000" jsonschema_description:"most between posts"`
	PostFixing DesignedFixing `json:"post_fixing" jsonschema_description:"into the edge, for each post"`
	RailScrew  string         `json:"rail_screw,omitempty" jsonschema_description:"empty reads as wood-screw-5x80"`
	MaxRailMm  int            `json:"max_rail_mm,omitempty" jsonschema:"minimum=0,maximum=12000" jsonschema_description:"longest rail; 0 reads as 4800"`
}
