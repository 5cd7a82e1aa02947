package cutting

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// published is one instance with what is known about it; best 0 where nothing is.
type published struct {
	name        string
	problem     *Lengths
	best, lower int64
}

// folderOf is where instances are: an environment variable's folder, or the one shared beside the repository.
func folderOf(tb testing.TB, variable, name string) string {
	tb.Helper()
	folder := os.Getenv(variable)
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "shared", "benchmarks", name)
	}
	if _, err := os.Stat(folder); err != nil {
		if os.Getenv("CI") == "true" {
			tb.Fatalf("no instances to check against: %v", err)
		}
		tb.Skipf("no instances here; set %s to a folder of them: %v", variable, err)
	}
	return folder
}

// readFolder reads every instance of a folder, in order of name, with its row of reference.csv if there is one.
func readFolder(tb testing.TB, folder, pattern, best, lower string, read func(tb testing.TB, path string) *Lengths) []published {
	tb.Helper()
	rows, column := [][]string{}, map[string]int{}
	if f, err := os.Open(filepath.Join(folder, "reference.csv")); err == nil {
		defer f.Close()
		if rows, err = csv.NewReader(f).ReadAll(); err != nil {
			tb.Fatal(err)
		}
		for i, name := range rows[0] {
			column[name] = i
		}
	}
	known := map[string][]string{}
	for _, row := range rows {
		known[row[0]] = row
	}
	paths, err := filepath.Glob(filepath.Join(folder, pattern))
	if err != nil || len(paths) == 0 {
		tb.Fatalf("no %s in %s: %v", pattern, folder, err)
	}
	var out []published
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
		p := published{name: name, problem: read(tb, path)}
		if row := known[name]; row != nil {
			p.best, p.lower = number(tb, row[column[best]]), number(tb, row[column[lower]])
		}
		out = append(out, p)
	}
	return out
}

func number(tb testing.TB, text string) int64 {
	tb.Helper()
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		tb.Fatal(err)
	}
	return n
}

// readCutting reads one file in the cutting stock format of BPPLIB: types, capacity, then width and demand in lines.
func readCutting(tb testing.TB, path string) *Lengths {
	tb.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		tb.Fatal(err)
	}
	fields := strings.Fields(string(text))
	n := make([]int, len(fields))
	for i, field := range fields {
		n[i] = int(number(tb, field))
	}
	if len(n) < 2 || len(n) != 2+2*n[0] {
		tb.Fatalf("%s: %d numbers for %d types", path, len(n), n[0])
	}
	p := &Lengths{Stock: []Bar{{Code: "bar", LengthMm: n[1], Count: Unlimited, PriceMinor: 1}}}
	for i := 2; i < len(n); i += 2 {
		p.Demand = append(p.Demand, Piece{LengthMm: n[i], Count: n[i+1]})
	}
	return p
}

// readSalvage reads one mixed instance of salvaged and new stock.
func readSalvage(tb testing.TB, path string) *Lengths {
	tb.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		tb.Fatal(err)
	}
	var file struct {
		KerfMm        int `json:"kerf_mm"`
		Stock, Demand []struct {
			LengthMm int `json:"length_mm"`
			Quantity int
			Cost     int64
		}
	}
	if err := json.Unmarshal(text, &file); err != nil {
		tb.Fatalf("%s: %v", path, err)
	}
	p := &Lengths{KerfMm: file.KerfMm}
	for _, s := range file.Stock {
		p.Stock = append(p.Stock, Bar{LengthMm: s.LengthMm, Count: s.Quantity, PriceMinor: s.Cost})
	}
	for _, d := range file.Demand {
		p.Demand = append(p.Demand, Piece{LengthMm: d.LengthMm, Count: d.Quantity})
	}
	return p
}

// TestCutting cuts every instance of BPPLIB's classes in the folder.
func TestCutting(t *testing.T) {
	t.Parallel()
	folder := folderOf(t, "UNPICK_CUTTING", "cutting")
	cutFolder(t, "cutting", readFolder(t, folder, "*.txt", "known_optimum", "known_optimum", readCutting))
}

// TestCuttingSalvage cuts every mixed instance in the folder.
func TestCuttingSalvage(t *testing.T) {
	t.Parallel()
	folder := folderOf(t, "UNPICK_CUTTING_SALVAGE", "cutting-salvage")
	cutFolder(t, "cutting-salvage", readFolder(t, folder, "*.json", "best_cost", "lower_bound", readSalvage))
}

var oneAtATime sync.Mutex

// shortBudget is the seconds an instance where none are given: enough to see that the engine is whole.
const shortBudget = 0.2

// budget is the seconds an instance. UNPICK_CLOCK=cpu counts them on the processor, for a machine that others use too.
func budget(tb testing.TB) float64 {
	tb.Helper()
	v := os.Getenv("UNPICK_SECONDS")
	if v == "" {
		return shortBudget
	}
	seconds, err := strconv.ParseFloat(v, 64)
	if err != nil || seconds <= 0 {
		tb.Fatalf("UNPICK_SECONDS=%q: give seconds an instance, such as 1 or 0.5", v)
	}
	return seconds
}

// solveWithin cuts one instance in so many seconds, and says how many it took.
func solveWithin(p *Lengths, seconds float64) (*Plan, float64, error) {
	wall, cpu := time.Now(), processorSeconds()
	spent := func() float64 {
		if os.Getenv("UNPICK_CLOCK") == "cpu" {
			return processorSeconds() - cpu
		}
		return time.Since(wall).Seconds()
	}
	plan, err := SolveLengths(p, Limits{Seed: 1, Stop: func() bool { return spent() >= seconds }})
	return plan, spent(), err
}

// cutFolder cuts instance after instance, checks each answer by separate code, and prints what came of them. An answer
// that cannot be carried out, one better than is possible, and a bound above a cutting that exists are faults.
func cutFolder(t *testing.T, set string, instances []published) {
	t.Helper()
	oneAtATime.Lock() // seconds on one core, not shared by two folders
	defer oneAtATime.Unlock()
	seconds := budget(t)
	n, known, optimal, proven := 0, 0, 0, 0
	gap, spent, waste := 0.0, 0.0, 0.0
	for _, p := range instances {
		plan, took, err := solveWithin(p.problem, seconds)
		if err != nil {
			t.Errorf("%s: %v", p.name, err)
			continue
		}
		checkPublished(t, &p, plan)
		n, spent, waste = n+1, spent+took, waste+100*float64(plan.WasteMm)/float64(plan.UsedMm)
		if plan.Proven {
			proven++
		}
		best := p.best
		if best == 0 && plan.Proven {
			best = plan.Objective
		}
		if best > 0 {
			known++
			gap += 100 * (float64(plan.Objective)/float64(best) - 1)
			if plan.Objective <= best {
				optimal++
			}
		}
		if os.Getenv("UNPICK_VERBOSE") != "" {
			t.Logf("%-20s %d, best known %d, our bound %d, proven %v, %d rounds, %.2f s", p.name, plan.Objective, p.best, plan.Bound, plan.Proven, plan.Rounds, took)
		}
	}
	t.Logf("%s: %d of %d at the best known or proven, %d proven, mean gap %.3f %%, waste %.2f %% of the stock used, %.2f s each", set, optimal, n, proven, gap/float64(max(known, 1)), waste/float64(max(n, 1)), spent/float64(max(n, 1)))
	fmt.Printf("RESULT %s n=%d optimal=%d proven=%d mean_gap_percent=%.2f seconds_each=%.2f\n", set, n, optimal, proven, gap/float64(max(known, 1)), spent/float64(max(n, 1)))
}

func checkPublished(t *testing.T, p *published, plan *Plan) {
	t.Helper()
	if err := Verify(p.problem, plan); err != nil {
		t.Errorf("%s: %v", p.name, err)
	}
	if len(plan.Unmade) > 0 {
		t.Errorf("%s: %d rows of demand left open, stock can be bought", p.name, len(plan.Unmade))
	}
	lower, best := p.lower, p.best
	if best == 0 {
		lower, best = 0, math.MaxInt64
	}
	if plan.Objective < lower {
		t.Errorf("%s: %d is below the proven bound %d", p.name, plan.Objective, lower)
	}
	if plan.Bound > best || plan.Bound > plan.Objective {
		t.Errorf("%s: our bound %d is above a cutting of %d that exists", p.name, plan.Bound, min(best, plan.Objective))
	}
	if plan.Proven != (plan.Bound == plan.Objective) {
		t.Errorf("%s: proven %v with bound %d and objective %d", p.name, plan.Proven, plan.Bound, plan.Objective)
	}
}
