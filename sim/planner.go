package sim

import "context"

func planPasses(ctx context.Context, j *Job, progress func(done float64, what string)) (passes []Pass, reasons []string, ok bool, err error) {
	return nil, nil, false, nil
}
