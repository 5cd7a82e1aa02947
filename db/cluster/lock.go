package cluster

import (
	"context"
	"fmt"
	"os"
	"time"
)

// lock is a lock of the operating system on an open file. It goes when its file is closed or its program dies, however
// that happens; two locks in one program exclude each other as those of two programs do. The file stays: a lock file that
// is removed could be locked by two who each hold another file of the same name.
type lock struct {
	file *os.File
}

type lockMode bool

const (
	shared    lockMode = false
	exclusive lockMode = true
)

func openLock(path string) (*lock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, fmt.Errorf("opening lock file: %w", err)
	}
	return &lock{file: f}, nil
}

// acquire waits for the lock as long as the context allows. It asks again and again, because a wait inside the operating
// system could not be cancelled.
func (l *lock) acquire(ctx context.Context, m lockMode) error {
	if err := context.Cause(ctx); err != nil {
		return fmt.Errorf("locking %s: %w", l.file.Name(), err)
	}
	for {
		got, err := l.try(m)
		if err != nil || got {
			return err
		}
		if err := pause(ctx, 20*time.Millisecond); err != nil {
			return fmt.Errorf("waiting for lock %s: %w", l.file.Name(), err)
		}
	}
}

// try takes the lock if nobody is in the way. A lock already held must be released first: going from shared to exclusive
// in one go is not defined alike everywhere.
func (l *lock) try(m lockMode) (bool, error) {
	got, err := lockFile(l.file, m)
	if err != nil {
		return false, fmt.Errorf("locking %s: %w", l.file.Name(), err)
	}
	return got, nil
}

func (l *lock) release() error {
	if err := unlockFile(l.file); err != nil {
		return fmt.Errorf("unlocking %s: %w", l.file.Name(), err)
	}
	return nil
}

// close lets go of whatever is held. Nothing was written, so there is no error worth telling.
func (l *lock) close() { _ = l.file.Close() }

// pause sleeps unless the context ends first, and says so.
func pause(ctx context.Context, d time.Duration) error {
	select {
	case <-ctx.Done():
		return context.Cause(ctx)
	case <-time.After(d):
		return nil
	}
}
