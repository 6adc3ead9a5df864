package jobfile

import _ "embed"

//go:embed starter.toml
var starter string

// Starter returns a commented job to begin from, in shop words. Read accepts
// it as it stands.
func Starter() string { return starter }
