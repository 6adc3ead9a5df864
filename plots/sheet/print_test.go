package sheet

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"billet/sim"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
)

// TestWidths holds the widths that lines are broken by to the typeface itself,
// Liberation Sans: to a thousandth of the size, its own unit being 1/2048.
func TestWidths(t *testing.T) {
	regular, bold := fontFace(t, liberationsansregular.TTF), fontFace(t, liberationsansbold.TTF)
	for c := ' '; c <= '~'; c++ {
		a, ok := regular.GlyphAdvance(c)
		if got := float64(a) / 64 / 1000; !ok || math.Abs(got-charWide(c)) > 0.001 {
			t.Errorf("%q is %.3f wide, reckoned %.3f", c, got, charWide(c))
		}
	}
	// Bold differs letter by letter; lines of text must not be wider than reckoned.
	for _, text := range []string{"15/16 in (23.8 mm)", "The billet vanishes against the lining.", "NO: the bar does not come to its target with these machines."} {
		is, said := 0.0, 0.0
		for _, c := range text {
			a, _ := bold.GlyphAdvance(c)
			is += float64(a) / 64 / 1000
			said += charWide(c) * spare * boldWider
		}
		if is > said {
			t.Errorf("%q is %.2f wide in bold, reckoned %.2f", text, is, said)
		}
	}
}

func fontFace(t *testing.T, ttf []byte) font.Face {
	t.Helper()
	f, err := opentype.Parse(ttf)
	if err != nil {
		t.Fatal(err)
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: 1000, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		t.Fatal(err)
	}
	return face
}

func TestTwoColumns(t *testing.T) {
	for _, c := range []struct {
		items []int
		want  int
	}{{nil, 0}, {[]int{5}, 5}, {[]int{1, 1, 1}, 2}, {[]int{4, 1, 1, 1}, 4}, {[]int{1, 1, 1, 4}, 4}, {[]int{2, 3, 2}, 5}} {
		if got := twoColumns(c.items); got != c.want {
			t.Errorf("%v: %d, wanted %d", c.items, got, c.want)
		}
	}
}

// chosen is the layout a sheet is set in.
func chosen(r *sim.Result) layout {
	w := wordsFor(r)
	all := layouts()
	for _, l := range all {
		if total(w.blocks(l)) <= pageHigh {
			return l
		}
	}
	return all[len(all)-1]
}

// TestLayout: a short job keeps large type and its pictures; 8 heats of 3 passes
// still fit one page; 20 of 3 say that they don't.
func TestLayout(t *testing.T) {
	if l := chosen(madeResult(t, 2, 2)); l.scale != 1 || !l.pictures || l.over {
		t.Errorf("a short job is set as %+v", l)
	}
	if l := chosen(madeResult(t, 8, 3)); l.over {
		t.Errorf("a long job is set as %+v", l)
	}
	r := madeResult(t, 20, 3)
	if l := chosen(r); !l.over {
		t.Errorf("a job too long is set as %+v", l)
	}
	b, err := Sheet(r)
	if err != nil {
		t.Fatal(err)
	}
	mustHave(t, checkPage(t, b), "This plan does not fit one page: it goes on overleaf.")
}

// TestTrueSize: drawings carry their size in millimetres and are drawn in them.
func TestTrueSize(t *testing.T) {
	r := madeResult(t, 2, 2)
	w := wordsFor(r)
	for _, c := range []struct {
		what string
		d    *drawing
		wide float64 // mm
	}{{"section", w.sectionDrawing(), 40}, {"blade", w.bladeDrawing(pageWide), 120}, {"ruler", ruler(), 50.8}} {
		m := regexp.MustCompile(`width="([0-9.]+)mm" height="([0-9.]+)mm" viewBox="0 0 ([0-9.]+) ([0-9.]+)"`).FindStringSubmatch(c.d.svg())
		if m == nil {
			t.Fatalf("%s has no size in millimetres", c.what)
		}
		if m[1] != m[3] || m[2] != m[4] {
			t.Errorf("%s is %s × %s mm on paper and %s × %s inside", c.what, m[1], m[2], m[3], m[4])
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range regexp.MustCompile(`[ML](-?[0-9.]+) `).FindAllStringSubmatch(c.d.svg(), -1) {
			x, _ := strconv.ParseFloat(p[1], 64)
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
		if math.Abs(hi-lo-c.wide) > 0.011 { // written to a hundredth
			t.Errorf("%s is drawn %.2f mm wide, wanted %.2f", c.what, hi-lo, c.wide)
		}
	}
	r.Job.Blade.Length = 0.240
	if d := w.bladeDrawing(pageWide); d == nil || !strings.Contains(d.caption, "HALF size") || math.Abs(d.wide-121) > 0.01 {
		t.Errorf("a blade longer than the page: %+v", d)
	}
	r.Job.Blade.Length = 0.6
	if d := w.bladeDrawing(pageWide); d != nil {
		t.Errorf("a blade longer than two pages: %q", d.caption)
	}
}

// TestPrinted prints sheets with a real browser on both papers and counts the
// pages. It is left out where there is no Chromium, and with -short.
func TestPrinted(t *testing.T) {
	browser, err := exec.LookPath("chromium")
	if err != nil || testing.Short() {
		t.Skip("no chromium, or -short")
	}
	all := cases(t)
	for _, name := range []string{"inch", "long", "no", "many", "too long"} {
		b, err := Sheet(all[name])
		if err != nil {
			t.Fatal(err)
		}
		l := chosen(all[name])
		for _, paper := range []string{"A4", "letter"} {
			page := strings.Replace(string(b), "size: portrait", "size: "+paper+" portrait", 1)
			n := printed(t, browser, page)
			if l.over != (n > 1) {
				t.Errorf("%s on %s: %d pages, set as %+v", name, paper, n, l)
			}
		}
	}
}

// printed is how many pages a page of HTML prints on.
func printed(t *testing.T, browser, html string) int {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "page.html"), filepath.Join(dir, "page.pdf")
	if err := os.WriteFile(in, []byte(html), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--user-data-dir="+filepath.Join(dir, "profile"),
		"--no-pdf-header-footer", "--print-to-pdf="+out, "file://"+in)
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Skipf("chromium does not run here: %v: %s", err, text)
	}
	pdf, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(pdf, -1))
}
