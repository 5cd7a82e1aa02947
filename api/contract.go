package api

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/labstack/echo/v4"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"
	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"unpick/api/spec"
	"unpick/domain"
	"unpick/domain/fitoutfile"
	"unpick/domain/photo"
	"unpick/reports/returned"
)

// mostBody is the largest body that is read, a fit-out file apart.
const mostBody = 1 << 20

// contract holds every request against the OpenAPI document before a handler sees it.
type contract struct {
	doc  *openapi3.T
	text []byte
}

func newContract() (*contract, error) {
	doc, err := openapi3.NewLoader().LoadFromData(spec.Contract)
	if err != nil {
		return nil, fmt.Errorf("reading the contract: %w", err)
	}
	if err := doc.Validate(context.Background()); err != nil {
		return nil, fmt.Errorf("checking the contract: %w", err)
	}
	text, err := doc.MarshalJSON()
	if err != nil {
		return nil, fmt.Errorf("writing the contract as JSON: %w", err)
	}
	return &contract{doc, text}, nil
}

// route finds the operation that the router chose, nil for a page.
func (k *contract) route(c echo.Context) *routers.Route {
	parts := strings.Split(c.Path(), "/")
	for i, part := range parts {
		if name, ok := strings.CutPrefix(part, ":"); ok {
			parts[i] = "{" + name + "}"
		}
	}
	path := strings.Join(parts, "/")
	item := k.doc.Paths.Value(path)
	if item == nil || item.GetOperation(c.Request().Method) == nil {
		return nil
	}
	return &routers.Route{Spec: k.doc, Path: path, PathItem: item, Method: c.Request().Method, Operation: item.GetOperation(c.Request().Method)}
}

// check refuses what the contract does not allow: too much, another media type, an unknown parameter or field, a value out
// of range. The body is read once and put back.
func (k *contract) check(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		route := k.route(c)
		if route == nil {
			return next(c)
		}
		if err := readBody(c, route.Operation); err != nil {
			return err
		}
		if err := knownParameters(c.QueryParams(), route.Operation); err != nil {
			return err
		}
		input := &openapi3filter.RequestValidationInput{Request: c.Request(), PathParams: pathParams(c), QueryParams: c.QueryParams(), Route: route,
			Options: &openapi3filter.Options{MultiError: true, SkipSettingDefaults: true, ExcludeRequestBody: isFile(route.Operation)}}
		if err := openapi3filter.ValidateRequest(c.Request().Context(), input); err != nil {
			return inWords(err)
		}
		return next(c)
	}
}

// isFile reports whether an operation takes a file, which has a reader of its own that names lines or cells.
func isFile(op *openapi3.Operation) bool { return mostOf(op) != mostBody }

// mostOf is the largest body that an operation takes.
func mostOf(op *openapi3.Operation) int64 {
	switch op.OperationID {
	case "importFitOut":
		return fitoutfile.MostBytes
	case "keepPhoto":
		return photo.MostBytes
	case "receiveReturned", "takeRegisterWorkbook":
		return returned.MostBytes
	}
	return mostBody
}

// readBody takes the whole body, within its limit and of the media type that the operation wants.
func readBody(c echo.Context, op *openapi3.Operation) error {
	r := c.Request()
	body, err := io.ReadAll(http.MaxBytesReader(c.Response(), r.Body, mostOf(op)))
	if tooLarge, ok := errors.AsType[*http.MaxBytesError](err); ok {
		return domain.Errorf(domain.TooLarge, "the body is larger than %d MiB: send less at once", tooLarge.Limit>>20)
	}
	if err != nil {
		return domain.Errorf(badRequest, "the body broke off while it was read: send it again")
	}
	if op.RequestBody != nil {
		if len(body) == 0 {
			return domain.Errorf(badRequest, "the body is missing")
		}
		given, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
		if err != nil || op.RequestBody.Value.Content.Get(given) == nil {
			return domain.Errorf(mediaType, "the body must be %s: say so in Content-Type", strings.Join(mediaTypes(op), " or "))
		}
	}
	r.GetBody = func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(body)), nil }
	r.Body, _ = r.GetBody()
	return nil
}

func mediaTypes(op *openapi3.Operation) []string {
	var out []string
	for name := range op.RequestBody.Value.Content {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

func pathParams(c echo.Context) map[string]string {
	out := map[string]string{}
	for i, name := range c.ParamNames() {
		value := c.ParamValues()[i]
		if c.Request().URL.RawPath != "" { // the router then hands out what was sent
			if plain, err := url.PathUnescape(value); err == nil {
				value = plain
			}
		}
		out[name] = value
	}
	return out
}

// knownParameters refuses a query parameter that the operation does not have: a misspelt one would do nothing, silently.
func knownParameters(query url.Values, op *openapi3.Operation) error {
	var faults domain.Errors
	for name := range query {
		if op.Parameters.GetByInAndName(openapi3.ParameterInQuery, name) == nil {
			faults.Addf(badRequest, "query "+name, "is no parameter here: take it out, or mend its spelling")
		}
	}
	slices.SortFunc(faults, func(a, b *domain.Error) int { return cmp.Compare(a.Field, b.Field) })
	return faults.OrNil()
}

// inWords lists everything that does not follow the contract, each with its place.
func inWords(err error) error {
	var faults domain.Errors
	gather(&faults, "", err)
	return faults.OrNil()
}

func gather(faults *domain.Errors, in string, err error) {
	if many, ok := err.(openapi3.MultiError); ok {
		for _, e := range many {
			gather(faults, in, e)
		}
		return
	}
	if request, ok := err.(*openapi3filter.RequestError); ok {
		if p := request.Parameter; p != nil {
			in = p.In + " " + p.Name
		}
		if request.Err == nil {
			faults.Addf(badRequest, in, "%s", request.Reason)
			return
		}
		gather(faults, in, request.Err)
		return
	}
	if compiled, ok := errors.AsType[*jsonschema.ValidationError](err); ok {
		gatherLeaves(faults, in, compiled)
		return
	}
	if broken, ok := errors.AsType[*openapi3.SchemaError](err); ok {
		at, text := pointer(broken.JSONPointer()), broken.Reason
		if named := aboutProperty.FindStringSubmatch(text); named != nil {
			if end := pointer(named[1:2]); !strings.HasSuffix(at, end) {
				at += end
			}
			text = map[string]string{"missing": "is missing", "unsupported": noField}[named[2]]
		}
		faults.Addf(badRequest, cmp.Or(in, at), "%s", text)
		return
	}
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		faults.Addf(badRequest, in, "the body is not JSON: %v", syntax)
		return
	}
	faults.Addf(badRequest, in, "%v", err)
}

const noField = "is no field here: take it out, or mend its spelling"

// aboutProperty is how kin-openapi says that a field is missing or unknown; its place may lack the field's name.
var aboutProperty = regexp.MustCompile(`^property "(.*)" is (missing|unsupported)$`)

// gatherLeaves takes the innermost causes of a broken schema, which are what a person can mend.
func gatherLeaves(faults *domain.Errors, in string, err *jsonschema.ValidationError) {
	if len(err.Causes) > 0 {
		for _, cause := range err.Causes {
			gatherLeaves(faults, in, cause)
		}
		return
	}
	at := pointer(err.InstanceLocation)
	switch k := err.ErrorKind.(type) {
	case *kind.AdditionalProperties:
		for _, name := range k.Properties {
			faults.Addf(badRequest, cmp.Or(in, at+pointer([]string{name})), "%s", noField)
		}
	case *kind.Required:
		for _, name := range k.Missing {
			faults.Addf(badRequest, cmp.Or(in, at+pointer([]string{name})), "is missing")
		}
	default:
		faults.Addf(badRequest, cmp.Or(in, at), "%s", err.ErrorKind.LocalizedString(message.NewPrinter(language.English)))
	}
}

// pointer is a JSON pointer, RFC 6901.
func pointer(path []string) string {
	out := ""
	for _, part := range path {
		out += "/" + strings.NewReplacer("~", "~0", "/", "~1").Replace(part)
	}
	return out
}

// binder reads a body into what the generated code hands it; the contract has refused unknown fields already.
type binder struct{}

func (binder) Bind(into any, c echo.Context) error {
	body, err := io.ReadAll(c.Request().Body)
	if err != nil {
		return fmt.Errorf("reading a body: %w", err)
	}
	if whole, ok := into.(*json.RawMessage); ok { // a file: its own reader says what is wrong with it
		*whole = body
		return nil
	}
	if err := json.Unmarshal(body, into); err != nil {
		return domain.Errorf(badRequest, "the body cannot be read: %v", err)
	}
	return nil
}
