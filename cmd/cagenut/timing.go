package main

import (
	"bytes"
	"errors"

	"github.com/spf13/cobra"

	"cagenut/lint/sequence"
	"cagenut/render/runsheet"
)

const timingLong = `Read the minutes measured on signed run sheets, and propose a pace.

Each FILE is a table as window --format csv prints it, with the column
measured_minutes filled in. Printed is a pace block to put into a file of the
estate: for each task the median of what was measured, with how many lines it
rests on and what it was before. Tasks measured less than three times keep
their figure.`

func timingCommand(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "timing FILE.csv...",
		Short: "propose a pace from minutes measured on signed sheets",
		Long:  timingLong,
		Args:  atLeast(1, "the signed sheets as CSV files"),
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := p.read(cmd.Context())
			if err != nil {
				return err
			}
			var all []sequence.Timing
			var errs []error
			for _, name := range args {
				data, err := p.readNamed(name)
				if err != nil {
					errs = append(errs, err)
					continue
				}
				timings, err := sequence.ReadTimings(bytes.NewReader(data), name)
				if err != nil {
					errs = append(errs, usageError{err.Error()})
				}
				all = append(all, timings...)
			}
			if err := errors.Join(errs...); err != nil {
				return err
			}
			if len(all) == 0 {
				return usagef("no line has measured minutes; fill in the column measured_minutes of the sheet")
			}
			return runsheet.Pace(p.stdout, sequence.Calibrate(all, sequence.Pace(r.estate)), len(all))
		},
	}
}
