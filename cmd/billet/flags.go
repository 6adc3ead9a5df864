package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"billet/plots"
	"billet/sim"
	"billet/sim/unit"
)

// flags are the flags of one call, as given. A command declares those it
// takes with the methods named take…; the others keep their zero value.
type flags struct {
	set  *pflag.FlagSet
	name string // of the command

	formats                              []string // accepted; the first is the default
	format, out, pictures, pictureFormat string
	units, dims, accuracy, ranges        string
	quiet                                bool
	folder                               string // to write a plan into
	draws                                int
	seed                                 int64
}

// newFlags declares the flags of c.
func newFlags(c command) *flags {
	f := &flags{set: pflag.NewFlagSet(c.name, pflag.ContinueOnError), name: c.name}
	f.set.SetOutput(io.Discard)
	f.set.Usage = func() {}
	c.take(f)
	return f
}

// takeOut declares --out and --quiet.
func (f *flags) takeOut() {
	f.set.StringVarP(&f.out, "out", "o", "", "")
	f.set.BoolVar(&f.quiet, "quiet", false, "")
}

// takeFormat declares --format with the formats accepted, the default first.
func (f *flags) takeFormat(formats ...string) {
	f.formats = formats
	f.set.StringVar(&f.format, "format", formats[0], "")
}

// takePictures declares --pictures and --picture-format.
func (f *flags) takePictures() {
	f.set.StringVar(&f.pictures, "pictures", "", "")
	f.set.StringVar(&f.pictureFormat, "picture-format", "svg", "")
}

// takeUnits declares --units.
func (f *flags) takeUnits() { f.set.StringVar(&f.units, "units", "", "") }

// takeModel declares --dims, --accuracy and --ranges.
func (f *flags) takeModel() {
	f.set.StringVar(&f.dims, "dims", "3", "")
	f.set.StringVar(&f.accuracy, "accuracy", "0.5 C", "")
	f.set.StringVar(&f.ranges, "ranges", "on", "")
}

// takeFolder declares --out as a folder, with the format of the pictures in it,
// and --quiet.
func (f *flags) takeFolder() {
	f.set.StringVarP(&f.folder, "out", "o", "", "")
	f.set.StringVar(&f.pictureFormat, "picture-format", "svg", "")
	f.set.BoolVar(&f.quiet, "quiet", false, "")
}

// takeDraws declares --draws and --seed.
func (f *flags) takeDraws() {
	f.set.IntVar(&f.draws, "draws", 0, "")
	f.set.Int64Var(&f.seed, "seed", 1, "")
}

// parse reads the arguments after the command's name and checks every value.
// It returns pflag.ErrHelp where help was asked for.
func (f *flags) parse(args []string) error {
	if err := f.set.Parse(args); err != nil {
		return f.explain(err)
	}
	for _, name := range []string{"out", "pictures"} {
		if g := f.set.Lookup(name); g != nil && g.Changed && g.Value.String() == "" {
			return misuse(fmt.Sprintf("--%s: given nothing; the name of a file or folder", name))
		}
	}
	if err := f.checkFormat(); err != nil {
		return err
	}
	if f.set.Lookup("pictures") != nil && f.set.Changed("picture-format") && f.pictures == "" {
		return misuse("--picture-format: given without --pictures; a folder to put them in as well", "billet "+f.name+" JOB.toml --pictures DIR --picture-format "+f.pictureFormat)
	}
	for _, check := range []func() error{
		func() error { _, err := f.figures(); return err },
		func() error { _, err := f.options(); return err },
		func() error { _, err := f.system(sim.Metric); return err },
	} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// explain puts the flag library's errors into our words.
func (f *flags) explain(err error) error {
	var unknown *pflag.NotExistError
	var without *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.Is(err, pflag.ErrHelp):
		return err
	case errors.As(err, &unknown):
		return f.unknown(unknown)
	case errors.As(err, &without):
		return misuse(fmt.Sprintf("--%s: given nothing; a value after it", without.GetFlag().Name), f.seeHelp())
	case errors.As(err, &invalid) && invalid.GetFlag().Value.Type() != "bool":
		return misuse(fmt.Sprintf("--%s: given %q; a whole number", invalid.GetFlag().Name, invalid.GetValue()), f.seeHelp())
	case errors.As(err, &invalid):
		return misuse(fmt.Sprintf("--%s: given %q; true or false, or nothing", invalid.GetFlag().Name, invalid.GetValue()), f.seeHelp())
	}
	return misuse(err.Error(), f.seeHelp())
}

func (f *flags) seeHelp() string {
	return fmt.Sprintf(`"billet help %s" lists its flags`, f.name)
}

// unknown names the flag that is not known and the nearest one that is.
func (f *flags) unknown(err *pflag.NotExistError) error {
	name := "--" + err.GetSpecifiedName()
	if err.GetSpecifiedShortnames() != "" {
		name = "-" + err.GetSpecifiedShortnames()
	}
	var known []string
	f.set.VisitAll(func(g *pflag.Flag) { known = append(known, g.Name) })
	hint := f.seeHelp()
	if near := nearest(err.GetSpecifiedName(), known); near != "" {
		hint = fmt.Sprintf("did you mean --%s?", near)
	}
	return misuse(fmt.Sprintf("%s: a flag %q does not take", name, "billet "+f.name), hint)
}

func (f *flags) checkFormat() error {
	if len(f.formats) == 0 {
		return nil
	}
	for _, known := range f.formats {
		if f.format == known {
			return nil
		}
	}
	return misuse(fmt.Sprintf("--format: given %q; %s", f.format, orList(f.formats)))
}

// figures is the file format of pictures.
func (f *flags) figures() (plots.Format, error) {
	if f.pictureFormat == "" && f.pictures == "" {
		return plots.SVG, nil
	}
	format, err := plots.ParseFormat(f.pictureFormat)
	if err != nil {
		return 0, misuse(fmt.Sprintf("--picture-format: given %q; svg or png", f.pictureFormat))
	}
	return format, nil
}

// options are how the job is to be worked out.
func (f *flags) options() (sim.Options, error) {
	opt := sim.Options{Draws: f.draws, Seed: f.seed}
	const fewest, manyest = 2, 100000
	if f.set.Changed("draws") && (f.draws < fewest || f.draws > manyest) {
		return opt, misuse(fmt.Sprintf("--draws: given %d; %d to %d", f.draws, fewest, manyest))
	}
	if f.set.Changed("seed") && f.draws == 0 {
		return opt, misuse("--seed: given without --draws; how many days to draw as well", fmt.Sprintf("--draws 200 --seed %d", f.seed))
	}
	if f.set.Lookup("dims") == nil {
		return opt, nil
	}
	switch f.dims {
	case "3":
		if f.set.Changed("dims") {
			opt.Dims = 3 // whatever it takes
		}
	case "1":
		opt.Dims = 1
	case "2":
		opt.Dims = 2
	default:
		return opt, misuse(fmt.Sprintf("--dims: given %q; 1 through the thickness, 2 over the section, 3 the whole billet", f.dims))
	}
	switch f.ranges {
	case "on":
		opt.Ranges = true
	case "off":
	default:
		return opt, misuse(fmt.Sprintf("--ranges: given %q; on or off", f.ranges))
	}
	// Finer than the least would take hours and means nothing beside what is
	// known of a forge; coarser than the most is no answer.
	const least, most = 0.05, 10.0 // K
	dT, err := unit.Parse(unit.TemperatureDifference, f.accuracy)
	if err != nil || dT < least || dT > most {
		return opt, misuse(fmt.Sprintf(`--accuracy: given %q; a temperature difference from "0.05 C" to "10 C"`, f.accuracy), `--accuracy "0.5 C" is the default`)
	}
	opt.Accuracy = dT
	return opt, nil
}

// system is the system of units to show results in: as asked for, else the
// job's own.
func (f *flags) system(job sim.Units) (sim.Units, error) {
	if f.set.Lookup("units") == nil || !f.set.Changed("units") {
		return job, nil
	}
	switch f.units {
	case "metric":
		return sim.Metric, nil
	case "inch":
		return sim.Inch, nil
	}
	return job, misuse(fmt.Sprintf("--units: given %q; metric or inch", f.units))
}

// unitSystem is the system of units for text.
func unitSystem(u sim.Units) unit.System {
	if u == sim.Inch {
		return unit.Inch
	}
	return unit.Metric
}
