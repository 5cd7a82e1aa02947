package domain

// FirstForms are records as they stand before the first change to them: those at version 1 that others are put in place
// of. The log keeps them, so that what was imported can be held to the hash of its import for good.
func (r *Register) FirstForms(put Records) Records {
	now := r.Records()
	return Records{
		Zones:      firstForms(now.Zones, put.Zones, func(v *Zone) (string, int) { return v.Code, v.Version }),
		Hosts:      firstForms(now.Hosts, put.Hosts, func(v *HostSurface) (string, int) { return v.Code, v.Version }),
		Assemblies: firstForms(now.Assemblies, put.Assemblies, func(v *Assembly) (string, int) { return v.Code, v.Version }),
		Elements:   firstForms(now.Elements, put.Elements, func(v *Element) (string, int) { return v.Code, v.Version }),
		Fixings:    firstForms(now.Fixings, put.Fixings, func(v *Fixing) (string, int) { return v.Code, v.Version }),
		Holes:      firstForms(now.Holes, put.Holes, func(v *Hole) (string, int) { return v.Code, v.Version }),
		Relations:  firstForms(now.Relations, put.Relations, func(v *Relation) (string, int) { return v.Code, v.Version }),
	}
}

func firstForms[T any](now, put []T, of func(*T) (code string, version int)) []T {
	if len(put) == 0 {
		return nil
	}
	wanted := make(map[string]bool, len(put))
	for i := range put {
		code, _ := of(&put[i])
		wanted[code] = true
	}
	var out []T
	for i := range now {
		if code, version := of(&now[i]); version == 1 && wanted[code] {
			out = append(out, now[i])
		}
	}
	return out
}
