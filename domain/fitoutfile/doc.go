// Package fitoutfile owns the file format of a fit-out: JSON with a published JSON Schema (2020-12) and a version.
//
// The idea: the structs of package domain and their tags are the only description. Reading, writing and the schema
// follow them, so that they cannot drift apart. An assembly is given as a recipe with its parameters, or as plain
// elements and fixings; a written file carries both, and one whose pieces are there is not built a second time.
// Reading is strict, because a field dropped in silence is a fixing forgotten: every fault is told with its line,
// its JSON pointer and the mend.
//
// Names are told apart by case, null is not used (leave the field out), and a byte order mark is passed over.
// When version 2 comes, a file lift.go changes the text of version 1 into it, between rightFormat and decode in
// read.go, so that only one version of the structs ever lives.
//
// Looking for
//
//   - the members of a file: file.go; reading, in order: read.go; writing: write.go
//   - what is no JSON, and broken JSON: bytes.go; doubled names, half characters: scan.go
//   - lines and pointers in the text: layout.go, pointer.go
//   - the published schema: schema.go; holding a file to it: rules.go; its faults in words: words.go
//   - expanding recipes: expand.go; whose fault a made record is: blame.go; one form of parameters: params.go
package fitoutfile
