package sim

// Cut is the pieces to cut from stock.
type Cut struct{}

// Hardened is the heat treatment.
type Hardened struct{}
