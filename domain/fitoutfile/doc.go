// Package fitoutfile is the file format of a fit-out: JSON with a published JSON Schema.
package fitoutfile
