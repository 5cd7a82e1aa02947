package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"unpick/api/service"
)

// writeAll writes every document into a folder, each under a temporary name until it is whole.
func writeAll(dir string, docs []service.Document, progress func(name string)) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("making the folder for the documents: %w", err)
	}
	for _, d := range docs {
		progress(d.Name)
		if err := writeFile(filepath.Join(dir, d.Name), d.Write); err != nil {
			return err
		}
	}
	return nil
}

func writeFile(path string, write func(w io.Writer) error) (err error) {
	file, err := os.CreateTemp(filepath.Dir(path), ".making-*")
	if err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	defer func() {
		if err != nil {
			file.Close()
			os.Remove(file.Name())
		}
	}()
	buffered := bufio.NewWriter(file)
	if err := write(buffered); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	if err := buffered.Flush(); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	if err := file.Chmod(0o644); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	if err := file.Close(); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	return os.Rename(file.Name(), path)
}
