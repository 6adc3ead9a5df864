package sim

import "context"

// PlanFound is what the planner found, and its run.
type PlanFound struct {
	Passes  []Pass
	Reasons []string
	OK      bool
	Work    *Work
}

// PlanOf plans a job's passes and runs them.
func PlanOf(ctx context.Context, j *Job) (*PlanFound, error) {
	ps, reasons, ok, err := planPasses(ctx, j, nil)
	if err != nil {
		return nil, err
	}
	w, err := runWork(ctx, j, ps)
	if err != nil {
		return nil, err
	}
	return &PlanFound{Passes: ps, Reasons: reasons, OK: ok, Work: w.out}, nil
}
