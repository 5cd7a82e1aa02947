package service

import (
	"unpick/domain"
	"unpick/domain/release"
)

// roundAdvice is the advice against records after which some pieces wait for each other, so that none can ever come
// out first. Only stated relations can make such a round on their own: records without one are not asked, and nor is a
// register that had a round before.
func roundAdvice(r *domain.Register, add domain.Records) []domain.Advice {
	stated := false
	for i := range add.Relations {
		stated = stated || add.Relations[i].Origin != domain.FromRecipe
	}
	if !stated {
		return nil
	}
	err := release.Build(r.With(add)).Check()
	if err == nil || release.Build(r).Check() != nil {
		return nil
	}
	codes := make([]string, 0, len(add.Relations))
	for i := range add.Relations {
		codes = append(codes, add.Relations[i].Code)
	}
	return []domain.Advice{{Kind: "round", Severity: domain.Stop, Codes: codes, Text: err.Error(), Mend: "look which way round the relation is before logging it"}}
}
