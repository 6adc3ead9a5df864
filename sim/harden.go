package sim

// Hardened is the heat treatment.
type Hardened struct{}
