package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"billet/plots"
	"billet/plots/sheet"
	"billet/sim"
	"billet/sim/unit"
)

var planCommand = command{
	name: "plan",
	line: "the whole job, everything above, into a folder with report and sheet",
	help: `The whole job worked through at once, into a folder: the soak, the passes, the
drift and its causes, what the fire takes, what the bevels show, the pieces to
cut and the heat treatment, as far as the job describes them; a report to read,
a sheet to print and hang by the forge, and all pictures.

    billet plan JOB.toml -o folder
    billet plan JOB.toml -o folder --draws 200   with the odds

Flags:
    -o, --out DIR            the folder to write into; made where it is not
                             there, files of the same name are replaced
        --draws N            draw N days for the odds, as with billet drift;
                             2 to 100000
        --seed S             another seed draws other days; 1 by default
        --format FORMAT      text, or json: plan.json printed as well
        --picture-format F   svg or png
        --units UNITS        metric or inch, whatever the job says; numbers in
                             json are metric always
        --dims N             of the soak: 1: heat flows through the thickness
                             alone, as in a wide plate; 2: over the section, as
                             in a long bar; 3: the whole billet, the default
        --accuracy DT        error left by the calculation of the soak, "0.5 C"
                             by default; what is not known of the forge is not
                             in it
        --ranges WHICH       on: also how far the soak may be out, and what
                             makes that so, the default; off: not
        --quiet              say nothing but the answer and errors

Rows of [[measured]] in the job are taken over after their heats: the rest of
the plan starts from the bar as it is. The folder is written whole or not at
all.

Exit code: 0 done; 1 the answer to one of the questions is "no" (everything is
written all the same); 2 the command or the job is at fault; 3 the computation
failed.
`,
	take: func(f *flags) {
		f.takeFormat("text", "json")
		f.takeFolder()
		f.takeUnits()
		f.takeModel()
		f.takeDraws()
	},
	run: runPlan,
}

func runPlan(c *call) error {
	if err := checkFolder(c.flags.folder); err != nil {
		return err
	}
	r, err := c.workOut(deed{
		doing: "working out the plan",
		work: func(c *call, j *sim.Job, opt sim.Options) (*sim.Result, error) {
			opt.Sweeps = opt.Ranges // the causes of a cold core, for the pictures
			return sim.Plan(c.ctx, j, opt)
		},
	})
	if err != nil {
		return err
	}
	files, whole, err := c.planFiles(r)
	if err != nil {
		return err
	}
	answer := planText(r, c.flags.folder, files)
	if c.flags.format == "json" {
		answer = whole
	}
	out := c.out
	out.quiet = true // the answer lists the files
	if err := out.deliver(answer, files); err != nil {
		return err
	}
	if planFails(r) {
		return errNo
	}
	return nil
}

// checkFolder refuses what is no folder to write into, before anything is
// worked out.
func checkFolder(dir string) error {
	if dir == "" {
		return misuse("-o: given nothing; the folder to write the plan into", "billet plan JOB.toml -o plan")
	}
	info, err := os.Stat(dir)
	switch {
	case err == nil && !info.IsDir():
		return misuse(fmt.Sprintf("-o: %s is a file; a folder", dir))
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return misuse(fmt.Sprintf("-o: %s: cannot be read: %v", dir, reason(err)))
	}
	return nil
}

// planFails says that the answer to one of the questions is "no".
func planFails(r *sim.Result) bool {
	return r.Soak != nil && soakFails(r) || r.Work != nil && !r.Work.Can || r.Ground != nil && grindFails(r) ||
		r.Stock != nil && stockFails(r) || r.Hardened != nil && hardenFails(r)
}

// planJSON is the whole plan as JSON; null where the job does not describe a
// part.
type planJSON struct {
	heading
	Stock  any      `json:"stock"`
	Soak   any      `json:"soak"`
	Passes any      `json:"passes"`
	Drift  any      `json:"drift"`
	Losses any      `json:"losses"`
	Grind  any      `json:"grind"`
	Harden any      `json:"harden"`
	Day    *dayJSON `json:"day"`
	Files  []string `json:"files"`
}

// dayJSON is what the job takes of time and fuel.
type dayJSON struct {
	Heats   int     `json:"heats"`
	Preheat number  `json:"preheat_s"`
	Fire    number  `json:"in_fire_s"`
	Work    number  `json:"at_tools_s"`
	Fuel    *number `json:"fuel_kj"` // null: no burner given
}

// planFiles are all files of the plan, and plan.json by itself.
func (c *call) planFiles(r *sim.Result) (files []file, whole []byte, err error) {
	plan := planJSON{heading: newHeading(c.name, r.Job.Title, r), Files: []string{}}
	add := func(name string, data []byte) {
		files = append(files, file{filepath.Join(c.flags.folder, name), data})
		plan.Files = append(plan.Files, name)
	}
	for _, p := range planParts(r, &plan) {
		add(p.name+".json", encode(p.answer))
	}
	figures, err := c.planFigures(r)
	if err != nil {
		return nil, nil, err
	}
	for _, f := range figures {
		add(f.Name+"."+f.Format.String(), f.Bytes)
	}
	pages, err := planPages(r, figures)
	if err != nil {
		return nil, nil, err
	}
	for _, p := range pages {
		add(p.path, p.data)
	}
	if d := r.Day; d != nil {
		plan.Day = &dayJSON{d.Heats, seconds(d.Preheat), seconds(d.Forge), seconds(d.Work), positive(d.Energy, kilojoules)}
	}
	plan.Files = append(plan.Files, "plan.json")
	whole = encode(plan)
	return append(files, file{filepath.Join(c.flags.folder, "plan.json"), whole}), whole, nil
}

// part is one command's answer within the plan.
type part struct {
	name   string
	answer any
}

// planParts are the parts that the result has, put into the plan too.
func planParts(r *sim.Result, plan *planJSON) []part {
	var out []part
	add := func(name string, there bool, at *any, answer func(string, *sim.Result) any) {
		if there {
			*at = answer(name, r)
			out = append(out, part{name, *at})
		}
	}
	add("stock", r.Stock != nil, &plan.Stock, stockResult)
	add("soak", r.Soak != nil, &plan.Soak, func(name string, r *sim.Result) any { return soakResult(name, r) })
	add("passes", r.Work != nil, &plan.Passes, workResult)
	add("drift", r.Work != nil, &plan.Drift, workResult)
	add("losses", r.Losses != nil, &plan.Losses, lossesResult)
	add("grind", r.Ground != nil, &plan.Grind, grindResult)
	add("harden", r.Hardened != nil, &plan.Harden, hardenResult)
	return out
}

// planFigures are all pictures the result has something for.
func (c *call) planFigures(r *sim.Result) ([]plots.Figure, error) {
	format, err := c.flags.figures()
	if err != nil {
		return nil, err
	}
	var out []plots.Figure
	worked := r.Work != nil && len(r.Work.Passes) > 0
	for _, d := range []struct {
		there bool
		draw  func(*sim.Result, plots.Format) ([]plots.Figure, error)
	}{
		{r.Stock != nil, plots.Stock},
		{r.Soak != nil, plots.Soak},
		{r.Soak != nil, plots.SoakCauses},
		{worked, plots.Passes},
		{worked, plots.Drift},
		{r.Losses != nil, plots.Losses},
		{r.Ground != nil, plots.Grind},
		{r.Hardened != nil, plots.Harden},
	} {
		if !d.there {
			continue
		}
		figures, err := d.draw(r, format)
		if err != nil {
			return nil, fmt.Errorf("pictures: %w", err)
		}
		out = append(out, figures...)
	}
	return out, nil
}

// planPages are the pages to read and to print.
func planPages(r *sim.Result, figures []plots.Figure) ([]file, error) {
	report, err := sheet.Report(r, figures)
	if err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	printed, err := sheet.Sheet(r)
	if err != nil {
		return nil, fmt.Errorf("sheet: %w", err)
	}
	return []file{{"report.html", report}, {"sheet.html", printed}}, nil
}

// planText is the answer of plan for a person: the first lines of every part,
// then the files.
func planText(r *sim.Result, dir string, files []file) []byte {
	b := &bytes.Buffer{}
	say := func(heading string, sentences ...string) {
		paragraph(b, fmt.Sprintf("%-9s", heading+":"), "         ", strings.Join(strings.Fields(strings.Join(sentences, " ")), " "))
	}
	if r.Stock != nil {
		w := stockWords{wordsFor(r.Job), r, r.Stock}
		say("Cut", w.verdict(), w.cut())
	}
	if r.Soak != nil {
		w := soakWordsFor(r)
		say("Soak", w.answer(), w.burning())
	}
	if r.Work != nil {
		w := workWordsFor(r)
		say("Passes", w.verdict(), w.comes(), w.hardest())
		say("Drift", w.ends(), w.atEdge(), w.turning(), w.odds())
	}
	if r.Losses != nil {
		w := lossWords{wordsFor(r.Job), r, r.Losses}
		say("Losses", w.edge(), w.taken(), w.decarb())
	}
	if r.Ground != nil {
		w := grindWordsFor(r)
		say("Grind", w.edge(), w.lines(), w.pits(), w.room(), w.rescue())
	}
	if r.Hardened != nil {
		w := hardenWords{wordsFor(r.Job), r.Hardened}
		say("Harden", w.verdict(), w.hardness())
	}
	if d := r.Day; d != nil && d.Forge > 0 {
		say("Day", dayWords(d))
	}
	bullets(b, "Warnings", r.Warnings)
	b.WriteString("\nWritten into " + dir + "\n")
	var names []string
	for _, f := range files {
		names = append(names, filepath.Base(f.path))
	}
	paragraph(b, "  ", "  ", strings.Join(names, ", "))
	b.WriteString("\nOpen report.html to read it all; print sheet.html and take it to the forge.\n")
	return b.Bytes()
}

// dayWords is what the job takes of time and fuel.
func dayWords(d *sim.Day) string {
	text := fmt.Sprintf("%s, %s in the fire after %s of lighting it, %s at the tools", sentenceCase(counted(d.Heats, "heat", "heats")),
		unit.Duration(d.Forge), unit.Duration(d.Preheat), unit.Duration(d.Work))
	if d.Energy > 0 {
		text += fmt.Sprintf(", %.1f kWh of fuel", d.Energy/3.6e6)
	}
	return text + "."
}
