// Package testdata holds the demo fit-out, so that the program carries it, beside the examples and the registers
// with answer keys that tests read.
package testdata

import _ "embed"

// Demo is the demo's fit-out file: a letterpress and bookbinding workshop, made up.
//
//go:embed demo.json
var Demo []byte

// Next is the layout of the bigger premises that the demo's workshop moves to.
//
//go:embed next.json
var Next []byte
