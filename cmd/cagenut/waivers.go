package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"cagenut/lang/quantity"
	"cagenut/lint"
	"cagenut/render/document"
	"cagenut/render/explain"
	"cagenut/render/style"
)

const waiversLong = `List what the estate accepts and until when, the first to end first, with what
became of each: in force, accepting nothing, or ended while what it accepted is
still there. A waiver holds on its last day, too.

The exit status is 1 where one has ended and what it accepted is still there.`

func waiversCommand(p *program) *cobra.Command {
	var format string
	cmd := &cobra.Command{
		Use:   "waivers",
		Short: "what is accepted, until when, by whom and why",
		Long:  waiversLong,
		Example: `  cagenut waivers
  cagenut waivers --today 2027-01-31`,
		Args: atMost(0),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return runWaivers(cmd.Context(), p, format)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "`FORMAT` of the list: text or json")
	return cmd
}

func runWaivers(ctx context.Context, p *program, format string) error {
	if format != "text" && format != "json" {
		return usagef("--format %q: write text or json", format)
	}
	r, err := p.read(ctx)
	if err != nil {
		return err
	}
	today, err := p.day()
	if err != nil {
		return err
	}
	result, _, err := p.judge(ctx, r, "")
	if err != nil {
		return err
	}
	all := slices.Clone(result.Waivers)
	slices.SortStableFunc(all, func(a, b lint.WaiverState) int {
		return cmp.Or(cmp.Compare(a.Until, b.Until), cmp.Compare(a.On, b.On), cmp.Compare(a.Rule, b.Rule))
	})
	if format == "json" {
		if err := waiversJSON(p, r, all); err != nil {
			return err
		}
	} else {
		look := explain.Look{Width: p.width(p.stdout), Colours: style.New(p.coloured(p.stdout)), Where: r.where}
		if err := explain.Waivers(p.stdout, all, today, look); err != nil {
			return err
		}
		fmt.Fprintf(p.stdout, "%s\n", quantity.Count(len(all), "waiver"))
	}
	if len(r.mistakes) > 0 {
		p.notef("the estate has %s; lint lists them", quantity.Count(len(r.mistakes), "mistake"))
	}
	if slices.ContainsFunc(all, func(w lint.WaiverState) bool { return w.Until < today && w.Accepts }) {
		return errReported
	}
	return nil
}

// waiversFormat is the version of the form of waivers as JSON.
const waiversFormat = 1

func waiversJSON(p *program, r *reading, all []lint.WaiverState) error {
	type waiver struct {
		Rule    string `json:"rule"`
		On      string `json:"on"`
		Until   string `json:"until"`
		Reason  string `json:"reason"`
		By      string `json:"by,omitempty"`
		Where   string `json:"where"`
		Accepts bool   `json:"accepts"`
		Judged  bool   `json:"judged"`
	}
	out := struct {
		Format  int      `json:"format"`
		Of      string   `json:"of"`
		Waivers []waiver `json:"waivers"`
	}{waiversFormat, "waivers", []waiver{}}
	for _, w := range all {
		out.Waivers = append(out.Waivers, waiver{w.Rule, w.On, w.Until.String(), w.Reason, w.By, r.where(w.Source.At()), w.Accepts, w.Judged})
	}
	return document.JSON(p.stdout, out)
}
