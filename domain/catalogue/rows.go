package catalogue

import "unpick/domain"

// The columns of each table, in order: a file must have exactly these.
const (
	fixingColumns = "slug,name,family,nominal_mm,hole_in_host_mm,hole_in_fixture_mm,hole_depth_mm,through_host,drive,undo_tool," +
		"release,residue,reuse_fraction,undo_per_hour,undo_unit,detachability,notes,source,confirmed"
	materialColumns = "code,name,kind,density_kg_m3,thickness_mm,width_mm,length_mm,mass_kg_m2,mass_kg_m,unit_mass_kg,stock_sizes," +
		"stock_lengths_mm,gap,moisture,gwp_kg_per_kg,biogenic_kg_per_kg,waste_code,notes,source,confirmed"
	hostColumns   = "slug,name,rule,reason,caution,repair_caution,max_depth_mm,default_repair,other_repairs,notes,source,confirmed"
	repairColumns = "slug,host,from_mm,to_mm,residues,waste_factor,least_ml,widen_mm,fixed_depth_mm,pack_ml,buys,applies_to,steps,materials," +
		"consumption,labour_minutes,cure_hours,unit,standard,finish,caution,source,confirmed"
	wasteColumns    = "code,description,entry,mirror_of,hazardous,items,caution,route,source,confirmed"
	handlingColumns = "key,topic,sex,height,reach,value,unit,applies_when,note,source,confirmed"
	rateColumns     = "key,job,minutes,unit,people,source,confirmed"
)

func fixingType(r row) domain.FixingType {
	t := domain.FixingType{
		Slug: r.text("slug"), Name: r.must("name"),
		Family:    r.oneOf("family", "masonry", "steel", "timber", "lining", "adhesive", "seal", "dry", "service"),
		NominalMm: r.number("nominal_mm"), HoleInHostMm: r.number("hole_in_host_mm"), HoleInFixtureMm: r.number("hole_in_fixture_mm"),
		HoleDepthMm: r.whole("hole_depth_mm"), ThroughHost: r.yes("through_host"),
		Drive: r.text("drive"), UndoTool: r.must("undo_tool"),
		Release: domain.ReleaseClass(r.oneOf("release", string(domain.UndoClean), string(domain.UndoLeavesResidue),
			string(domain.CutThrough), string(domain.Destructive))),
		Residue: r.text("residue"), ReuseFraction: r.number("reuse_fraction"),
		UndoPerHour: r.positive("undo_per_hour"), UndoUnit: r.oneOf("undo_unit", "each", "m"),
		Detachability: r.positive("detachability"), Notes: r.text("notes"), Sourced: r.sourced(),
	}
	if t.ReuseFraction > 1 {
		r.fault("reuse_fraction", "%v is a share of more than all", t.ReuseFraction)
	}
	if t.Detachability > 1 {
		r.fault("detachability", "%v is over 1", t.Detachability)
	}
	return t
}

func material(r row) domain.Material {
	return domain.Material{
		Code: r.text("code"), Name: r.must("name"),
		Kind: r.oneOf("kind", "timber", "board", "insulation", "membrane", "metal", "door", "glazing", "trim", "sealant", "adhesive",
			"service"),
		DensityKgM3: r.number("density_kg_m3"), ThicknessMm: r.number("thickness_mm"), WidthMm: r.whole("width_mm"),
		LengthMm: r.whole("length_mm"), MassKgM2: r.number("mass_kg_m2"), MassKgM: r.number("mass_kg_m"), UnitMassKg: r.number("unit_mass_kg"),
		StockSizes: r.text("stock_sizes"), StockLengthsMm: r.lengths("stock_lengths_mm"), Gap: r.text("gap"), Moisture: r.text("moisture"),
		GwpPerKg: r.number("gwp_kg_per_kg"), BiogenicPerKg: r.number("biogenic_kg_per_kg"), WasteCode: r.text("waste_code"),
		Notes: r.text("notes"), Sourced: r.sourced(),
	}
}

func hostKind(r row) domain.HostKind {
	return domain.HostKind{
		Slug: r.text("slug"), Name: r.must("name"),
		Rule:   domain.FixingRule(r.oneOf("rule", string(domain.Allowed), string(domain.Ask), string(domain.Never))),
		Reason: r.must("reason"), Caution: r.text("caution"), RepairCaution: r.text("repair_caution"), MaxDepthMm: r.whole("max_depth_mm"),
		DefaultRepair: r.must("default_repair"), OtherRepairs: r.list("other_repairs"), Notes: r.text("notes"), Sourced: r.sourced(),
	}
}

func repair(r row) domain.Repair {
	m := domain.Repair{
		Slug: r.text("slug"), Host: r.must("host"), FromMm: r.number("from_mm"), ToMm: r.positive("to_mm"), Residues: r.list("residues"),
		WasteFactor: r.number("waste_factor"), LeastMl: r.number("least_ml"), WidenMm: r.number("widen_mm"),
		FixedDepthMm: r.number("fixed_depth_mm"), PackMl: r.whole("pack_ml"), Buys: r.text("buys"), AppliesTo: r.must("applies_to"), Steps: r.must("steps"), Materials: r.text("materials"),
		Consumption: r.text("consumption"), LabourMinutes: r.whole("labour_minutes"), CureHours: r.whole("cure_hours"),
		Unit:     r.oneOf("unit", "hole", "spot", "patch", "m", "m2", "item", "panel", "tile"),
		Standard: r.text("standard"), Finish: r.text("finish"), Caution: r.text("caution"), Sourced: r.sourced(),
	}
	if m.FromMm >= m.ToMm {
		r.fault("to_mm", "%v is not over from_mm, %v", m.ToMm, m.FromMm)
	}
	for _, residue := range m.Residues {
		if !isResidue(Residue(residue)) {
			r.fault("residues", "%q is no residue", residue)
		}
	}
	return m
}

func wasteCode(r row) domain.WasteCode {
	return domain.WasteCode{
		Code: r.text("code"), Description: r.must("description"),
		Entry:    r.oneOf("entry", "mirror-nonhazardous", "mirror-hazardous", "absolute-hazardous", "absolute-nonhazardous"),
		MirrorOf: r.text("mirror_of"), Hazardous: r.must("hazardous"), Items: r.text("items"), Caution: r.text("caution"),
		Route: r.text("route"), Sourced: r.sourced(),
	}
}

func handling(r row) domain.Handling {
	return domain.Handling{
		Key: r.text("key"), Topic: r.must("topic"), Sex: r.text("sex"), Height: r.text("height"), Reach: r.text("reach"),
		Value: r.number("value"), Unit: r.text("unit"), When: r.text("applies_when"), Note: r.text("note"), Sourced: r.sourced(),
	}
}

func workRate(r row) domain.WorkRate {
	w := domain.WorkRate{
		Key: r.text("key"), Job: r.must("job"), Minutes: r.positive("minutes"),
		Unit: r.oneOf("unit", "piece", "m", "m2", "kg", "item"), People: r.whole("people"), Sourced: r.sourced(),
	}
	if w.People == 0 {
		r.fault("people", "at least one")
	}
	return w
}
