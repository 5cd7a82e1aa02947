package fitoutfile

import "unpick/domain"

// Format is the word that says what a file is, so that another program's JSON is refused by name.
const Format = "unpick-fitout"

// FormatVersion is the version that Write writes and the newest that Read reads. Version 1 had no sign_offs;
// versions 1 and 2 had no pricing of a fit-out, no left_by_consent of an assembly, no not_built_yet, no handrail of a stair, no
// struck_host_surfaces, no link_base, no breaks of a working day, no work_rates of a crew, no sign-offs of pieces found and waste assessed, no defects, no licence items, no
// no_photo of a repair signed for, no sign-offs of notices given and no numbers of holes. Each is read as it stands.
const FormatVersion = 3

// File is one fit-out as it stands in a file. The tags here and on the types of package domain are the only
// description of the format: the reader, the writer and the JSON Schema all follow them.
type File struct {
	Format        string               `json:"format" jsonschema:"enum=unpick-fitout" jsonschema_description:"always unpick-fitout"`
	FormatVersion int                  `json:"format_version" jsonschema:"minimum=1,maximum=3" jsonschema_description:"version of this format"`
	FitOut        domain.FitOut        `json:"fit_out"`
	Zones         []domain.Zone        `json:"zones,omitempty"`
	Hosts         []domain.HostSurface `json:"host_surfaces,omitempty"`
	Assemblies    []domain.Assembly    `json:"assemblies,omitempty" jsonschema_description:"in build order; one with a recipe and no pieces of its own in elements is expanded as the file is read"`
	Elements      []domain.Element     `json:"elements,omitempty"`
	Fixings       []domain.Fixing      `json:"fixings,omitempty"`
	Holes         []domain.Hole        `json:"holes,omitempty"`
	Relations     []domain.Relation    `json:"relations,omitempty"`
	Prices        []domain.Price       `json:"prices,omitempty"`
	SignOffs      []domain.SignOff     `json:"sign_offs,omitempty"`
	StruckHosts   []domain.HostSurface `json:"struck_host_surfaces,omitempty"`
}

// fileOf is a register as a file, sharing its slices.
func fileOf(r *domain.Register) File {
	return File{
		Format:        Format,
		FormatVersion: FormatVersion,
		FitOut:        r.FitOut,
		Zones:         r.Zones,
		Hosts:         r.Hosts,
		Assemblies:    r.Assemblies,
		Elements:      r.Elements,
		Fixings:       r.Fixings,
		Holes:         r.Holes,
		Relations:     r.Relations,
		Prices:        r.Prices,
		SignOffs:      r.SignOffs,
		StruckHosts:   r.StruckHosts,
	}
}

// register is the file as a register over a catalogue, before any recipe is expanded.
func (f File) register(cat *domain.Catalogue) *domain.Register {
	return &domain.Register{
		FitOut:     f.FitOut,
		Zones:      f.Zones,
		Hosts:      f.Hosts,
		Assemblies: f.Assemblies,
		Elements:   f.Elements,
		Fixings:    f.Fixings,
		Holes:      f.Holes,
		Relations:  f.Relations,
		Prices:     f.Prices,
		SignOffs:   f.SignOffs,
		Catalogue:  cat.WithRates(f.FitOut.Crew.Rates),

		StruckHosts: f.StruckHosts,
	}
}
