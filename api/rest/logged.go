package rest

import (
	"context"
	"errors"
	"strings"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/api/spec"
	"unpick/domain"
)

func consent(dryRun *spec.DryRun, accept *bool, reason *string) service.Consent {
	return service.Consent{Accept: value(accept), Reason: value(reason), DryRun: value(dryRun)}
}

// logRecords logs loose records; from turns what was sent into them. moves says where in the body a place in the records
// is, in pairs: "/elements/0", "/element".
func (h *Handlers) logRecords(ctx context.Context, fitOut string, from any, c service.Consent, moves ...string) (spec.Logged, error) {
	add, err := turned[domain.Records](from)
	if err != nil {
		return spec.Logged{}, err
	}
	logged, err := h.jobs.LogRecords(ctx, auth.Who(ctx), fitOut, add, c)
	return loggedTo(logged, moved(err, moves...))
}

func loggedTo(l service.Logged, err error) (spec.Logged, error) {
	if err != nil {
		return spec.Logged{}, err
	}
	advice := l.Advice
	if advice == nil {
		advice = []domain.Advice{}
	}
	return turned[spec.Logged](struct {
		Records domain.Records  `json:"records"`
		Advice  []domain.Advice `json:"advice"`
		Entry   int64           `json:"entry"`
	}{l.Records, advice, l.Entry})
}

// moved puts the places in an error where the person wrote them: prefixes in pairs, from and to.
func moved(err error, pairs ...string) error {
	move := func(field string) string {
		for i := 0; i+1 < len(pairs); i += 2 {
			if rest, ok := strings.CutPrefix(field, pairs[i]); ok && (rest == "" || strings.HasPrefix(rest, "/")) {
				return pairs[i+1] + rest
			}
		}
		return field
	}
	if faults, ok := errors.AsType[domain.Errors](err); ok {
		out := make(domain.Errors, len(faults))
		for i, f := range faults {
			out[i] = &domain.Error{Code: f.Code, Field: move(f.Field), Text: f.Text}
		}
		return out
	}
	if f, ok := errors.AsType[*domain.Error](err); ok {
		return &domain.Error{Code: f.Code, Field: move(f.Field), Text: f.Text}
	}
	return err
}
