package programme

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// published is one instance with what is known about it.
type published struct {
	name         string
	problem      *Problem
	lower, best  int
	criticalPath int
}

// psplibFolder is where the instances are: UNPICK_PSPLIB, or the folder shared beside the repository.
func psplibFolder(tb testing.TB) string {
	tb.Helper()
	folder := os.Getenv("UNPICK_PSPLIB")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "shared", "benchmarks", "psplib")
	}
	if _, err := os.Stat(filepath.Join(folder, "reference.csv")); err != nil {
		if os.Getenv("CI") == "true" {
			tb.Fatalf("no instances to check against: %v", err)
		}
		tb.Skipf("no instances here; set UNPICK_PSPLIB to a folder of .sm files with their reference.csv: %v", err)
	}
	return folder
}

// readPSPLIB reads every instance of a folder that reference.csv has a line for, in order of set, then name.
func readPSPLIB(tb testing.TB, folder string) []published {
	tb.Helper()
	f, err := os.Open(filepath.Join(folder, "reference.csv"))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		tb.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	var out []published
	for _, row := range rows[1:] {
		number := func(name string) int {
			n, err := strconv.Atoi(row[column[name]])
			if err != nil {
				tb.Fatalf("%s of %s: %v", name, row[0], err)
			}
			return n
		}
		p := published{name: row[column["instance"]], lower: number("lower_bound"), best: number("best_known"), criticalPath: number("critical_path_lower_bound")}
		p.problem = readInstance(tb, filepath.Join(folder, p.name+".sm"))
		out = append(out, p)
	}
	return out
}

// set is the family that an instance belongs to: "j30" of "j3010_1".
func (p *published) set() string { return "j" + strconv.Itoa(len(p.problem.Activities)-2) }

// readInstance reads one single-mode file in the format of Kolisch and Sprecher (1997). The two dummies stay, as
// activities of no duration.
func readInstance(tb testing.TB, path string) *Problem {
	tb.Helper()
	f, err := os.Open(path)
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	p := &Problem{}
	section := ""
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		line := lines.Text()
		if name, ok := strings.CutSuffix(strings.TrimSpace(line), ":"); ok {
			section = name
			continue
		}
		var n []int
		for _, field := range strings.Fields(line) {
			if v, err := strconv.Atoi(field); err == nil {
				n = append(n, v)
			}
		}
		if len(n) > 0 && len(n) == len(strings.Fields(line)) {
			readRow(p, section, n)
		}
	}
	if err := p.Check(); err != nil || len(p.Activities) == 0 {
		tb.Fatalf("%s: %d activities, %v", path, len(p.Activities), err)
	}
	return p
}

// readRow takes a line of numbers of one section. Successors come before durations, and the jobs in order.
func readRow(p *Problem, section string, n []int) {
	activity := func(number int) *Activity {
		for len(p.Activities) < number {
			p.Activities = append(p.Activities, Activity{Code: fmt.Sprint(len(p.Activities) + 1)})
		}
		return &p.Activities[number-1]
	}
	switch section {
	case "PRECEDENCE RELATIONS":
		activity(n[0])
		for _, after := range n[3:] {
			a := activity(after)
			a.After = append(a.After, n[0]-1)
		}
	case "REQUESTS/DURATIONS":
		a := activity(n[0])
		a.Minutes = n[2]
		for r, amount := range n[3:] {
			if amount > 0 {
				a.Needs = append(a.Needs, Need{Resource: r, Amount: amount})
			}
		}
	case "RESOURCEAVAILABILITIES":
		for r, capacity := range n {
			p.Resources = append(p.Resources, Resource{Code: fmt.Sprintf("R%d", r+1), Capacity: capacity})
		}
	}
}

func TestReadPSPLIB(t *testing.T) {
	t.Parallel()
	for _, p := range readPSPLIB(t, psplibFolder(t)) {
		w := newNetwork(p.problem)
		if got := int(slices.Max(w.tail)) * w.step; got != p.criticalPath {
			t.Errorf("%s: critical path %d, the reference says %d", p.name, got, p.criticalPath)
		}
	}
}

// tally is what came of one set.
type tally struct {
	n, equal, proven, schedules              int
	aboveBest, worst, aboveChain, worstChain float64
	seconds                                  float64
}

// TestPSPLIB schedules every instance of the folder. With UNPICK_SECONDS each gets that long, one after the other, on
// one core; without, each gets a fixed small number of rounds, so that the test stays short and gives the same figures
// everywhere. UNPICK_CLOCK=cpu counts the seconds on the processor, for a machine that others use too.
func TestPSPLIB(t *testing.T) {
	t.Parallel()
	instances := readPSPLIB(t, psplibFolder(t))
	seconds := 0.0
	if v := os.Getenv("UNPICK_SECONDS"); v != "" {
		var err error
		if seconds, err = strconv.ParseFloat(v, 64); err != nil || seconds <= 0 {
			t.Fatalf("UNPICK_SECONDS=%q: give seconds an instance, such as 1 or 0.5", v)
		}
	}
	sets := map[string]*tally{}
	var order []string
	for _, p := range instances {
		name := p.set()
		if sets[name] == nil {
			sets[name] = &tally{}
			order = append(order, name)
		}
		sets[name].add(t, &p, seconds)
	}
	for _, name := range order {
		s := sets[name]
		n := float64(s.n)
		t.Logf("%s: worst %.2f %% above the critical path; %.0f schedules a second", name, s.worstChain, float64(s.schedules)/s.seconds)
		fmt.Printf("RESULT psplib set=%s n=%d equal_best=%d proven=%d mean_above_best_percent=%.3f worst_percent=%.2f mean_above_critical_path_percent=%.2f seconds_each=%.2f\n",
			name, s.n, s.equal, s.proven, s.aboveBest/n, s.worst, s.aboveChain/n, s.seconds/n)
	}
}

// roundsWithoutClock is the effort an instance where no seconds are given.
const roundsWithoutClock = 4

// add schedules one instance and counts it. A schedule that cannot be carried out, one shorter than is possible, and a
// bound above a schedule that exists are faults of the planner.
func (s *tally) add(t *testing.T, p *published, seconds float64) {
	t.Helper()
	limits := Limits{Seed: 1, Rounds: roundsWithoutClock}
	wall, cpu := time.Now(), processorSeconds()
	spent := func() float64 {
		if os.Getenv("UNPICK_CLOCK") == "cpu" {
			return processorSeconds() - cpu
		}
		return time.Since(wall).Seconds()
	}
	if seconds > 0 {
		asked := 0
		limits.Rounds, limits.Stop = 0, func() bool {
			asked++
			return asked%16 == 0 && spent() >= seconds
		}
	}
	got, err := Solve(p.problem, limits)
	s.seconds += spent()
	if err != nil {
		t.Errorf("%s: %v", p.name, err)
		return
	}
	length, err := Verify(p.problem, got.Starts)
	if err != nil || length != got.Minutes {
		t.Errorf("%s: said %d, is %d (%v)", p.name, got.Minutes, length, err)
	}
	if length < p.lower {
		t.Errorf("%s: %d is below the proven bound %d", p.name, length, p.lower)
	}
	if got.Bound.Minutes > p.best {
		t.Errorf("%s: our bound %d (%s) is above a schedule of %d that exists", p.name, got.Bound.Minutes, got.Bound.Because, p.best)
	}
	if got.Proven != (got.Bound.Minutes == length) {
		t.Errorf("%s: proven %v with bound %d and length %d", p.name, got.Proven, got.Bound.Minutes, length)
	}
	above := 100 * (float64(length)/float64(p.best) - 1)
	chain := 100 * (float64(length)/float64(p.criticalPath) - 1)
	s.n++
	s.schedules += got.Schedules
	s.aboveBest, s.worst = s.aboveBest+above, max(s.worst, above)
	s.aboveChain, s.worstChain = s.aboveChain+chain, max(s.worstChain, chain)
	if length <= p.best {
		s.equal++
	}
	if got.Proven {
		s.proven++
	}
	if os.Getenv("UNPICK_VERBOSE") != "" && length > p.best {
		t.Logf("%s: %d, best known %d, our bound %d, %d rounds", p.name, length, p.best, got.Bound.Minutes, got.Rounds)
	}
}
