// Package db keeps registers in Postgres, 14 or later.
//
// The idea: there is one door to change anything. [DB.Change] locks the fit-out, loads its register, asks a pure
// function what to change, stores the answer and appends one entry to the log, all in one transaction. Because one
// writer at a time holds a fit-out, the function always sees the newest register and the log is one unbroken chain;
// appending waits a moment for another append and never conflicts with it. Amending and striking carry the version at
// which the record was read, and are refused as stale when somebody was faster.
//
// Every table leads with the firm, and every function takes it. Nothing is ever deleted and no code ever changes.
// Rules are constraints with names in migrations/*.sql; refusals.go turns each into a sentence.
//
// Looking for
//
//   - opening, transactions: db.go; migrations: migrate.go; what a broken constraint says: refusals.go
//   - the one door: change.go; the snapshot: register.go; whole registers at once: import.go, copy.go
//   - what all nouns share (load, page, add, put): noun.go; columns of one noun: element.go, fixing.go, hole.go, ...
//   - the log and its check: log.go (its hash: domain/log.go)
//   - issues of documents: issue.go; what was said to them, workbooks that came back: answer.go; links without an account: link.go
//   - a request sent twice is done once: once.go
//   - tests with a database of their own: dbtest; the private server: cluster
package db
