package jobfile

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"billet/sim/steel"
)

// FuzzRead: no text makes Read panic; what is refused is refused with a
// place and a reason; what is accepted holds finite numbers only.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"../../testdata/jobs/*.toml", "../../testdata/broken/*.toml", "testdata/*.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatalf("%s: no seeds (%v)", pattern, err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		j, err := Read("fuzz", bytes.NewReader(text))
		if (j == nil) == (err == nil) {
			t.Fatalf("job %v and error %v", j, err)
		}
		if err == nil {
			finite(t, "job", reflect.ValueOf(*j))
			return
		}
		var ps Problems
		if !errors.As(err, &ps) || len(ps) == 0 {
			t.Fatalf("error of type %T: %v", err, err)
		}
		lines := bytes.Count(text, []byte("\n")) + 1
		for _, p := range ps {
			if p.Line < 0 || p.Line > lines || p.Given == "" || p.Accepted == "" {
				t.Errorf("bad problem %+v in %d lines", p, lines)
			}
		}
	})
}

// finite fails on any number in v that is not finite. Materials are made by
// another package and left alone.
func finite(t *testing.T, path string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%s is %g", path, x)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			finite(t, path, v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			finite(t, path, v.Index(i))
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[steel.Material]() {
			return
		}
		for i := range v.NumField() {
			finite(t, path+"."+v.Type().Field(i).Name, v.Field(i))
		}
	}
}
