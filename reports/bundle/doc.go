// Package bundle writes the evidence of a fit-out as one zip file, and checks such a file: the register, the whole log,
// the photos, the documents as they were issued, and a page in plain words that says how anybody can check it without
// this program.
//
// The idea: three locks, one inside the other. The log's entries each hold the hash of the one before, so that whoever
// noted one hash years ago (it is printed on every issued document) holds everything before it. The manifest holds the
// hash of every file. The seal, in the comment of the zip file, holds the hash of the whole file, so that a change of a
// single byte anywhere is found. The seal and the manifest can be made anew by a forger; a log's head that somebody else
// noted cannot.
//
// Looking for
//
//   - what is in a bundle: write.go; the page in plain words: readme.go
//   - the seal over the whole file: seal.go
//   - checking: verify.go; the register against the log: register.go
package bundle
