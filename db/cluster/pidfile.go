package cluster

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// pidFile is what a running server says of itself in postmaster.pid. After a crash the file is left behind and its
// process is gone, or is another one.
type pidFile struct {
	pid       int
	socketDir string // empty while the server has no socket yet
}

// The lines of postmaster.pid, from 0: src/include/utils/pidfile.h of Postgres, the same since version 10.
const (
	pidLine       = 0
	socketDirLine = 4
)

// readPidFile finds nothing if no server has left its file; a file still being written is returned as far as it goes.
func (p place) readPidFile() (f pidFile, found bool, err error) {
	text, err := os.ReadFile(filepath.Join(p.data(), "postmaster.pid"))
	if errors.Is(err, fs.ErrNotExist) {
		return pidFile{}, false, nil
	}
	if err != nil {
		return pidFile{}, false, fmt.Errorf("reading the server's pid file: %w", err)
	}
	lines := strings.Split(string(text), "\n")
	f.pid, _ = strconv.Atoi(strings.TrimSpace(lines[pidLine])) // 0 while it is being written
	if len(lines) > socketDirLine {
		f.socketDir = strings.TrimSpace(lines[socketDirLine])
	}
	return f, true, nil
}
