package fitoutfile

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"

	"unpick/domain"
)

// Write writes a register as a file: indented by two, one form for one register, records in the register's own
// order. Read gives the same register back, recipes and their pieces both: pieces that are there are not made
// again. What Read would refuse is the caller's to check before: Write does not judge.
func Write(w io.Writer, r *domain.Register) error {
	file := fileOf(r)
	assemblies, err := canonicalAssemblies(r.Assemblies)
	if err != nil {
		return err
	}
	file.Assemblies = assemblies
	buffered := bufio.NewWriter(w)
	encoder := json.NewEncoder(buffered)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(file); err != nil {
		return fmt.Errorf("writing fit-out %s as JSON: %w", r.FitOut.Code, err)
	}
	if err := buffered.Flush(); err != nil {
		return fmt.Errorf("writing fit-out %s: %w", r.FitOut.Code, err)
	}
	return nil
}
