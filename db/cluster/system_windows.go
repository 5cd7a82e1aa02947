package cluster

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"syscall"

	"golang.org/x/sys/windows"
)

var commonTemp = os.TempDir() // every user has one of their own

// account is always the program's own user. Postgres refuses to run from an elevated prompt, and says so.
type account struct{}

func isRoot() bool { return false }

func serverAccount(string) (account, error) { return account{}, nil }

func (account) folderMode() fs.FileMode { return 0o700 }

// detached keeps the terminal's Ctrl-C from the server.
func (account) detached() *syscall.SysProcAttr {
	return &syscall.SysProcAttr{CreationFlags: windows.CREATE_NEW_PROCESS_GROUP, HideWindow: true}
}

func (account) own(string) error { return nil }

func (account) reach(string) error { return nil }

func executable(name string) string { return name + ".exe" }

func mayExecute(fs.FileInfo) bool { return true }

func alive(pid int) bool {
	h, err := windows.OpenProcess(windows.SYNCHRONIZE, false, uint32(pid))
	if err != nil {
		return errors.Is(err, windows.ERROR_ACCESS_DENIED)
	}
	defer windows.CloseHandle(h)
	event, err := windows.WaitForSingleObject(h, 0)
	return err != nil || event == uint32(windows.WAIT_TIMEOUT) // signalled once it has ended
}

// interrupt asks a server for its fast shutdown. Windows has no signals; every process of Postgres listens for their
// numbers on a pipe named after it (src/port/kill.c of Postgres).
func interrupt(pid int) error {
	pipe, err := os.OpenFile(fmt.Sprintf(`\\.\pipe\pgsignal_%d`, pid), os.O_RDWR, 0)
	if errors.Is(err, fs.ErrNotExist) {
		return nil // has just gone
	}
	if err != nil {
		return err
	}
	defer pipe.Close()
	if _, err := pipe.Write([]byte{byte(syscall.SIGINT)}); err != nil {
		return err
	}
	_, err = pipe.Read(make([]byte, 1)) // its answer: the signal was taken
	return err
}

func lockFile(f *os.File, m lockMode) (bool, error) {
	flags := uint32(windows.LOCKFILE_FAIL_IMMEDIATELY)
	if m == exclusive {
		flags |= windows.LOCKFILE_EXCLUSIVE_LOCK
	}
	err := windows.LockFileEx(windows.Handle(f.Fd()), flags, 0, 1, 0, new(windows.Overlapped))
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return false, nil
	}
	return err == nil, err
}

func unlockFile(f *os.File) error {
	return windows.UnlockFileEx(windows.Handle(f.Fd()), 0, 1, 0, new(windows.Overlapped))
}

// syncFolder does nothing: Windows logs renames itself and cannot sync a folder.
func syncFolder(string) error { return nil }
