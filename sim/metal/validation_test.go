package metal

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"billet/sim/internal/proof"
)

var update = flag.Bool("update", false, "write this package's part of benchmarks/VALIDATION.md anew")

var validation = proof.Part{File: filepath.Join("..", "..", "benchmarks", "VALIDATION.md"), Package: "sim/metal", Again: "go test ./sim/metal -update"}

// compared is a test whose checks with near stand in the validation table.
type compared struct {
	test, what, source, limit string

	checks int
	worst  float64 // largest share of a check's limit
}

const crank = "Crank, The Mathematics of Diffusion (from memory)"

var table = []*compared{
	{test: "TestCouple", what: "carbon, two half-spaces", source: crank + ", chapter 2", limit: "0.005 %C, the accuracy asked"},
	{test: "TestThinCore", what: "carbon, thin core in thick jackets, 900 to 3600 s", source: crank + ", chapter 2", limit: "0.005 %C, the accuracy asked"},
	{test: "TestSealedStack", what: "carbon, sealed stack of three layers", source: crank + ", chapter 2", limit: "0.005 %C, the accuracy asked"},
	{test: "TestAlternatingLayers", what: "carbon, time until layers of 0.15 to 1 mm have levelled to 5 %", source: crank + ", periodic series", limit: "0.005 %C, the accuracy asked"},
	{test: "TestSurfaceHeld", what: "carburised example; depth of full decarburisation", source: "Callister, Materials Science and Engineering, example 5.2 (inputs read in excerpt)", limit: "0.005 %C, and 15 µm, which is that"},
	{test: "TestSurfaceExchange", what: "carbon, exchange with a gas at a finite rate", source: crank + ", chapter 3", limit: "0.005 %C, the accuracy asked"},
	{test: "TestThinnedBetweenHolds", what: "carbon, thinned to half between two holds", source: "the same closed form in the coordinate of the start", limit: "0.005 %C, the accuracy asked"},
	{test: "TestAgainstFiniteDifferences", what: "carbon, D by carbon, profile of a three-layer stack", source: "explicit differences, computed apart, and a published run", limit: "0.005 %C, the accuracy asked"},
	{test: "TestDarkensCouple", what: "carbon, silicon steel against plain, 13 days: both sides of the joint", source: "Darken, Trans. AIME 180 (1949) 430 (from memory)", limit: "0.05 %C, what the activity formula leaves"},
	{test: "TestNickelFoilThrottles", what: "carbon through a nickel foil, steady", source: "Fick's first law; Lander, Kern and Beach (from memory)", limit: "beside the check"},
	{test: "TestParabolicLaw", what: "scale by the parabolic law, 10 to 60 min", source: "the law by hand", limit: "its last digit"},
	{test: "TestDescaling", what: "scale brushed off between heats", source: "root of the number of heats, exact", limit: "rounding"},
	{test: "TestParaLinear", what: "scale where gas is short", source: "plain integration, computed apart", limit: "1e-5 and the ends' 1 to 2 %"},
	{test: "TestMeasuredScale", what: "scale after 5 K/min to 1000 °C, 15 min, 5 K/min down: 401 ± 4 µm", source: "Materials 18 (2025) 2463, measured (read in excerpt)", limit: "40 %, what the law claims"},
	{test: "TestCriticalFormulas", what: "Ac1, Ac3, Ms, retained austenite of nine steels by each formula", source: "the formulas worked out apart", limit: "0.6 to 1.1 K, rounding of the list"},
	{test: "TestPublishedPoints", what: "Ac1, Ac3, Ms as published", source: "data sheets and isothermal diagrams (from memory)", limit: "what each formula claims, and the spread of publications"},
	{test: "TestMartensiteHardness", what: "hardness of martensite and of half martensite", source: "ASTM A255 (from memory)", limit: "0.11 HRC"},
	{test: "TestTemperedPlain", what: "tempered hardness of plain carbon steel, 31 measured points of five steels", source: "Hollomon and Jaffe 1945, Grange and Baughman 1956 (read in a compilation)", limit: "1.5 HRC; a steel foretold by the other four: rms 2"},
	{test: "TestTemperedAlloyed", what: "tempered hardness of 5160 type, O1, 52100", source: "published tables (read in excerpt)", limit: "2.5 HRC"},
	{test: "TestO1SecondTable", what: "tempered hardness of O1, a table not fitted to", source: "steelmaker's sheet (read in excerpt)", limit: "2.5 HRC of the range of ± 1"},
	{test: "TestIdealDiameter", what: "ideal diameters", source: "Grossmann's method, worked out apart", limit: "beside the check"},
	{test: "TestBimetal", what: "bow of two bonded layers", source: "Timoshenko, J. Opt. Soc. Am. 11 (1925) 233", limit: "beside the check"},
}

// note keeps the share of its limit that a check of a test in the table took.
func note(t *testing.T, off, limit float64) {
	name, _, _ := strings.Cut(t.Name(), "/")
	for _, c := range table {
		if c.test == name {
			c.checks++
			c.worst = max(c.worst, math.Abs(off)/limit)
		}
	}
}

// When all tests have run, the table must say what they found.
func TestMain(m *testing.M) {
	flag.Parse()
	code := m.Run()
	if all := flag.Lookup("test.run").Value.String() == ""; all && code == 0 {
		if err := writeTable(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			code = 1
		}
	}
	os.Exit(code)
}

func writeTable() error {
	var text strings.Builder
	text.WriteString("\n| case | source, status | checks | limit, what sets it | worst, as a share of its limit |\n|---|---|---|---|---|\n")
	for _, c := range table {
		if c.checks == 0 {
			return fmt.Errorf("%s stands in the validation table, but checks nothing with near", c.test)
		}
		worst := "under 0.01"
		if c.worst >= 0.01 {
			worst = fmt.Sprintf("%.2g", c.worst)
		}
		fmt.Fprintf(&text, "| %s | %s | %d | %s | %s |\n", c.what, c.source, c.checks, c.limit, worst)
	}
	return validation.Hold(text.String(), *update)
}
