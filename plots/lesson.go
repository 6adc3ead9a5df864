package plots

import (
	"math"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// lesson is a page to be printed: the causes of drift one by one.
type lesson struct {
	title, subtitle string
	start           sim.EndView
	scenes          []scene
	units           shown
	about           []string // beside the start
}

// scene is one row.
type scene struct {
	title   string
	why     string
	views   [2]sim.EndView // never turned over, turned every pass
	written [2]string
}

// The page: 8½ by 11 inches; on A4 it prints a little smaller.
const (
	lessonTall   = vg.Length(792) // pt
	lessonWords  = vg.Length(196) // pt, the column of words
	lessonColumn = (pageWidth - 2*pageMargin - lessonWords) / 2
	lessonStart  = vg.Length(110) // pt, the start at the most high
	lessonLine   = vg.Length(11)  // pt
	lessonGap    = vg.Length(9)   // pt, between rows
	whyMost      = 6              // lines of a reason
)

var handWhy = hand{size: 9, ink: inkText}

// lessonSheets lays out the page.
func lessonSheets(r *sim.Result) []*sheet { return []*sheet{teach(r).sheet()} }

// teach collects what the page shows.
func teach(r *sim.Result) *lesson {
	s, l := shownIn(r.Job), r.Lesson
	k := &lesson{title: "Why the core drifts, one cause at a time", subtitle: billet(r.Job, s, ""), start: l.Start, units: s}
	k.about = []string{
		"Every row takes this stack and squeezes it " + count(l.Passes, "time", "times") + ", each time by " + s.system.Share(l.Draft) + ":",
		"once never turned over, once turned over after every squeeze.",
		"The core is shaded; the dashed line is the bar’s own middle. Where the core sits",
		"even, the line halves it. Side A stays up on paper, whichever side lay on the die.",
		"Offsets are means over the width.",
	}
	for _, c := range l.Scenes {
		title := c.Title
		if !c.Matters {
			title += ": no drift"
		}
		k.scenes = append(k.scenes, scene{title: title, why: c.Why, views: [2]sim.EndView{c.Never, c.Flipped},
			written: [2]string{s.toward(c.Never.Offset), s.toward(c.Flipped.Offset)}})
	}
	return k
}

// why is the lines of a scene's reason.
func (c scene) lines(most int) []string { return handWhy.wrap(c.why, lessonWords-12, most) }

// deepest is the room up and down for a row's end views at a scale, pt.
func (c scene) deepest(scale vg.Length) vg.Length {
	tall := sidesTall()
	for _, v := range c.views {
		_, h := size(v)
		tall = max(tall, scale*vg.Length(h))
	}
	return tall
}

// high is the height of a row at a scale, pt.
func (c scene) high(scale vg.Length, most int) vg.Length {
	tall := c.deepest(scale)
	words := lessonLine * vg.Length(1+len(c.lines(most)))
	return max(words+2, tall+cellLine+2) + lessonGap
}

// header is the height of what stands over the rows.
func (k *lesson) header(scale vg.Length) vg.Length {
	_, h := size(k.start)
	return max(scale*vg.Length(h), cellLine*vg.Length(len(k.about))) + 20 + cellLine
}

// fit is the largest scale, pt per m, and the most lines of a reason with which
// all rows fit into the height given for them, and the height they take, which
// is more only where there are more scenes than a page holds.
func (k *lesson) fit(room vg.Length) (scale vg.Length, most int, used vg.Length) {
	wide := 0.0
	for _, c := range k.scenes {
		for _, v := range c.views {
			w, _ := size(v)
			wide = math.Max(wide, w)
		}
	}
	sw, sh := size(k.start)
	wide = math.Max(wide, sw)
	scale = min((lessonColumn-sideRoom-12)/vg.Length(wide), lessonStart/vg.Length(sh))
	for most = whyMost; ; {
		used = k.header(scale)
		for _, c := range k.scenes {
			used += c.high(scale, most)
		}
		switch {
		case used <= room || most == 1:
			return scale, most, used
		case scale > 0.4*lessonStart/vg.Length(sh):
			scale *= 0.98
		default:
			most--
		}
	}
}

// sheet draws the page.
func (k *lesson) sheet() *sheet {
	const foot = pageMargin + axisRow
	top := lessonTall - pageMargin - titleRow - subRow
	scale, most, used := k.fit(top - foot)
	top = max(top, foot+used)
	s := head("lesson", k.title, k.subtitle, top)
	e := ender{scale, tintsOf(k.start)}
	y := k.drawStart(s, e, top)
	gap := k.spare(scale, most, y-foot)
	for _, c := range k.scenes {
		s.line(pageMargin, y-lessonGap/2, pageWidth-pageMargin, y-lessonGap/2, 0.5, inkGrid, nil)
		y -= c.high(scale, most)
		c.draw(s, e, y, most)
		y -= gap
	}
	s.ruler(pageMargin, pageMargin+2, scale, k.units)
	s.text(handNote, pageWidth-pageMargin, pageMargin+2, 1, "true scale, all alike. Computed, not measured: cut an end, etch it and look.")
	return s
}

// spare is what can be added to the gap between rows.
func (k *lesson) spare(scale vg.Length, most int, room vg.Length) vg.Length {
	for _, c := range k.scenes {
		room -= c.high(scale, most)
	}
	return clamp(room/vg.Length(len(k.scenes)), 0, lessonGap)
}

// drawStart draws the start and the words beside it, and the heads of the
// columns; it returns how far down that goes.
func (k *lesson) drawStart(s *sheet, e ender, top vg.Length) vg.Length {
	_, h := size(k.start)
	deep := e.scale * vg.Length(h)
	y := top - k.header(e.scale)
	x := pageMargin + lessonWords + lessonColumn + sideRoom
	at := top - 8 - deep
	e.draw(s, k.start, x, at)
	s.sides(x, at, deep)
	for i, l := range k.about {
		s.text(handLabel, pageMargin, top-14-cellLine*vg.Length(i), 0, l)
	}
	for i, t := range []string{"never turned over", "turned every squeeze"} {
		s.text(handHead, pageMargin+lessonWords+sideRoom+lessonColumn*vg.Length(i), y+cellLine/2, 0, t)
	}
	return y
}

// draw draws a row over y.
func (c scene) draw(s *sheet, e ender, y vg.Length, most int) {
	top := y + c.high(e.scale, most) - lessonGap
	s.text(handHead, pageMargin, top-lessonLine/2, 0, handHead.fit(c.title, lessonWords-12))
	for i, l := range c.lines(most) {
		s.text(handWhy, pageMargin, top-lessonLine*(vg.Length(i)+1.5), 0, l)
	}
	for i, v := range c.views {
		_, h := size(v)
		x := pageMargin + lessonWords + sideRoom + lessonColumn*vg.Length(i)
		deep, tall := e.scale*vg.Length(h), c.deepest(e.scale)
		low := top - (tall+deep)/2
		e.draw(s, v, x, low)
		s.sides(x, low, deep)
		s.text(handLabel, x, top-tall-cellLine/2-2, 0, c.written[i])
	}
}
