//go:build unix

package cluster

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// commonTemp is short and open to every user.
const commonTemp = "/tmp"

// account is the user that runs the server. The zero value is the program's own user.
type account struct {
	name     string
	uid, gid uint32
	other    bool // another user than the program's: the program is root
}

func isRoot() bool { return os.Geteuid() == 0 }

// serverAccount is never root, whom Postgres refuses. A cluster that exists decides: Postgres runs only as its owner.
func serverAccount(dataDir string) (account, error) {
	if !isRoot() {
		return account{}, nil
	}
	if info, err := os.Stat(dataDir); err == nil {
		if owner, ok := info.Sys().(*syscall.Stat_t); ok && owner.Uid != 0 {
			return account{name: "number " + strconv.Itoa(int(owner.Uid)), uid: owner.Uid, gid: owner.Gid, other: true}, nil
		}
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, errUID := strconv.ParseUint(u.Uid, 10, 32)
		gid, errGID := strconv.ParseUint(u.Gid, 10, 32)
		if err := errors.Join(errUID, errGID); err != nil {
			return account{}, fmt.Errorf("reading the numbers of user %s: %w", name, err)
		}
		return account{name: name, uid: uint32(uid), gid: uint32(gid), other: true}, nil
	}
	return account{}, errors.New("postgres does not run as root, and there is no user postgres or nobody to run it as: " +
		"make a user named postgres, run unpick as an ordinary user, or give a connection to a server")
}

// folderMode is for the folders around the cluster: the server's user must be able to pass through them. The cluster
// itself is always for its owner alone.
func (a account) folderMode() fs.FileMode {
	if a.other {
		return 0o755
	}
	return 0o700
}

// detached makes a child of the account in a session of its own, out of reach of the terminal's Ctrl-C and hang-up.
func (a account) detached() *syscall.SysProcAttr {
	attr := &syscall.SysProcAttr{Setsid: true}
	if a.other {
		attr.Credential = &syscall.Credential{Uid: a.uid, Gid: a.gid}
	}
	return attr
}

// own gives a file or folder to the account.
func (a account) own(path string) error {
	if !a.other {
		return nil
	}
	return os.Chown(path, int(a.uid), int(a.gid))
}

// reach tells which folder on the way keeps the account out, and changes none: their modes are somebody's decision.
func (a account) reach(path string) error {
	if !a.other {
		return nil
	}
	for dir := path; ; dir = filepath.Dir(dir) {
		info, err := os.Stat(dir)
		if err != nil {
			return err
		}
		if !a.mayPass(info) {
			return fmt.Errorf("run by root, the server runs as user %s, who may not pass through %s (%s): "+
				"name a folder elsewhere, or allow it with chmod o+x", a.name, dir, info.Mode())
		}
		if dir == filepath.Dir(dir) {
			return nil
		}
	}
}

// mayPass goes by the mode alone: whoever uses access lists as well has the server's own message to go by.
func (a account) mayPass(info fs.FileInfo) bool {
	owner, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return true
	}
	switch {
	case owner.Uid == a.uid:
		return info.Mode()&0o100 != 0
	case owner.Gid == a.gid:
		return info.Mode()&0o010 != 0
	}
	return info.Mode()&0o001 != 0
}

func executable(name string) string { return name }

func mayExecute(info fs.FileInfo) bool { return info.Mode()&0o111 != 0 }

// alive asks without disturbing. Not being allowed to signal a process means that there is one.
func alive(pid int) bool {
	if pid <= 0 {
		return false
	}
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}

// interrupt asks a server for its fast shutdown: connections are cut, everything is saved. One that has just gone is fine.
func interrupt(pid int) error {
	if err := syscall.Kill(pid, syscall.SIGINT); err != nil && !errors.Is(err, syscall.ESRCH) {
		return err
	}
	return nil
}

// lockFile tries once. flock and not fcntl: its locks belong to the open file, so two of one program exclude each other,
// and closing another file of the same name does not drop them.
func lockFile(f *os.File, m lockMode) (bool, error) {
	how := syscall.LOCK_SH
	if m == exclusive {
		how = syscall.LOCK_EX
	}
	for {
		err := syscall.Flock(int(f.Fd()), how|syscall.LOCK_NB)
		switch {
		case errors.Is(err, syscall.EINTR):
			continue
		case errors.Is(err, syscall.EWOULDBLOCK):
			return false, nil
		}
		return err == nil, err
	}
}

func unlockFile(f *os.File) error { return syscall.Flock(int(f.Fd()), syscall.LOCK_UN) }

// syncFolder makes a rename in the folder outlast a power failure.
func syncFolder(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("saving the data folder: %w", err)
	}
	defer f.Close()
	if err := f.Sync(); err != nil {
		return fmt.Errorf("saving the data folder: %w", err)
	}
	return nil
}
