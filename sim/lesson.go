package sim

// Lesson shows each cause of drift alone on this job's billet, then together,
// each flipped every pass and never.
type Lesson struct {
	Start  EndView
	Passes int     // squeezes in each scene
	Draft  float64 // share of the height in each
	Scenes []Scene
}

// Scene is one cause at work.
type Scene struct {
	Name    string // of the cause, or "together", or of what does not matter
	Title   string // a few words
	Why     string // one sentence
	Matters bool   // false: it makes no drift, and the scene shows it
	Never   EndView
	Flipped EndView
}
