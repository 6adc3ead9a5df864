// Command billet answers a smith's questions about a forge-welded billet from
// one job file: how long to soak it, what to squeeze it to, where the core ends
// and why, what the fire takes, what the blade shows, and how to harden it.
//
// This package holds all that meets the outside: arguments, files, the
// terminal and exit codes. Nothing below it reads arguments or writes
// anywhere. Each command is one file with one value of type command; run.go
// lists them.
//
// Rules of output, for every command:
//
//   - the answer goes to standard output, or whole into the file named with
//     -o; everything else goes to standard error and starts with "billet: ";
//   - messages are lower case without a full stop, and a "hint: " line after
//     them says what to type instead;
//   - files are written whole or not at all, and a run that fails leaves none;
//   - the same job gives the same bytes.
package main
