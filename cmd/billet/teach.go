package main

import (
	"bytes"
	"errors"
	"fmt"

	"billet/plots"
	"billet/sim"
)

var teachCommand = command{
	name: "teach",
	line: "the causes of drift one at a time, on this job's billet",
	help: `The causes of drift one at a time on this job's billet, then together: each
never turned over, and turned over at every pass, with a sentence of why. What
does not move the core is shown too.

    billet teach JOB.toml
    billet teach JOB.toml --pictures folder   the page to print and hang up

Flags:
        --format FORMAT      text or json
    -o, --out FILE           write the answer into FILE
        --pictures DIR       draw the page into the folder DIR
        --picture-format F   svg or png
        --units UNITS        metric or inch, whatever the job says; numbers in
                             json are metric always
        --quiet              say nothing but the answer and errors

The faults are of a size a shop meets: a side 50 °C colder, a dry lower die,
jackets a tenth apart. The job's own passes are not used.

Exit code: 0 done; 2 the command or the job is at fault; 3 the computation
failed.
`,
	take: func(f *flags) {
		f.takeFormat("text", "json")
		f.takeOut()
		f.takePictures()
		f.takeUnits()
	},
	run: func(c *call) error {
		return c.carryOut(deed{
			doing: "working out the lesson",
			work:  teach,
			draw:  plots.Lesson, text: lessonText, json: lessonResult,
			no: func(*sim.Result) bool { return false },
		})
	},
}

// errNoLesson says that the stack has nothing to drift in.
var errNoLesson = errors.New("a lesson on drift needs a core between jackets, three layers or more")

func teach(c *call, j *sim.Job, _ sim.Options) (*sim.Result, error) {
	if len(j.Stack.Layers) < 3 {
		return nil, errNoLesson
	}
	return sim.Teach(c.ctx, j)
}

// lessonText is the lesson for a person.
func lessonText(r *sim.Result) []byte {
	w, l := wordsFor(r.Job), r.Lesson
	b := &bytes.Buffer{}
	paragraph(b, "", "", fmt.Sprintf("One fault at a time: %s of %s each, the billet never turned over, and turned over at every pass.",
		counted(l.Passes, "squeeze", "squeezes"), w.Share(l.Draft)))
	for _, s := range l.Scenes {
		b.WriteString("\n")
		title := s.Title
		if !s.Matters {
			title += " (moves nothing)"
		}
		b.WriteString(title + "\n")
		paragraph(b, "  ", "  ", s.Why)
		paragraph(b, "  ", "  ", fmt.Sprintf("The core ends, never turned over: %s; turned over at every pass: %s.", w.toward(s.Never.Offset), w.toward(s.Flipped.Offset)))
	}
	b.WriteString("\n")
	if r.Job.Title != "" {
		paragraph(b, "", "", r.Job.Title)
	}
	paragraph(b, "", "", sentence(w.stack()))
	footing(b, r)
	return b.Bytes()
}

// lessonJSON is the lesson as JSON.
type lessonJSON struct {
	heading
	Squeezes int         `json:"squeezes"`
	Draft    number      `json:"draft_percent"`
	Scenes   []sceneJSON `json:"scenes"`
}

type sceneJSON struct {
	Name    string `json:"name"`
	Title   string `json:"title"`
	Why     string `json:"why"`
	Matters bool   `json:"matters"`
	Never   number `json:"never_turned_offset_mm"`
	Flipped number `json:"every_pass_offset_mm"`
}

func lessonResult(name string, r *sim.Result) any {
	l := r.Lesson
	out := lessonJSON{newHeading(name, r.Job.Title, r), l.Passes, number(100 * l.Draft), []sceneJSON{}}
	for _, s := range l.Scenes {
		out.Scenes = append(out.Scenes, sceneJSON{s.Name, s.Title, s.Why, s.Matters, millimetres(s.Never.Offset), millimetres(s.Flipped.Offset)})
	}
	return out
}
