// Package cluster owns the private Postgres cluster of the program: the server it runs for itself when nobody gave it a
// connection.
//
// The idea: the person who keeps the register should not have to know that there is a database server. So the program
// finds a Postgres on the machine (or fetches one, once), makes a cluster in the user's data folder the first time, and
// runs it on a socket that only that user can reach. Nothing listens on the network.
//
// Rules that hold throughout:
//
//   - A data folder that exists is never deleted, emptied or initialised again. A cluster is made in a folder with a new
//     name and moved into place when it is whole, so what is in place is always whole.
//   - A data folder of another major version is refused with the ways out, and left as it is.
//   - Every start, join and stop happens under one exclusive lock (the gate); every program that uses the cluster holds
//     a shared lock (in use) meanwhile. Both are locks of the operating system, so a program that dies lets go of them.
//     Starting under the gate finds the server running, and joins, or starts it; stopping under the gate asks for the
//     in-use lock alone, and who gets it is the last one out and stops the server.
//   - The server runs in a session of its own: Ctrl-C in the terminal reaches the program and not the server. A program
//     that is killed leaves the server running, since others may have joined it; the next Start joins it and the last
//     one out stops it.
//   - Run by root (containers, build machines) the server runs as an unprivileged user: the owner of the data folder if
//     there is one, else "postgres", else "nobody". Root's home is closed to that user, so root's default is
//     /var/lib/unpick, not the home folder.
//
// In the data folder: data (what Postgres calls its data folder), server.log, server.log.old, and the two lock files.
//
// Looking for the configuration, joining and last one out: file cluster.go; which folders, and the short one of the
// socket: folders.go; the locks: lock.go; finding Postgres: find.go; fetching it: fetch.go; making the cluster and the
// version rule: initialise.go; starting, asking and stopping the server: server.go and pidfile.go; users, permissions
// and signals of each operating system: system_unix.go and system_windows.go.
package cluster
