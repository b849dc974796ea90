package lang

import (
	"context"
	"fmt"
	"reflect"

	"cagenut/lang/estate"
	"cagenut/lang/source"
)

// Policies reads files of policies that several estates share. They may hold
// policies and their trials and nothing else, for what they declared would be
// in every estate. What a policy is confined to need not exist in this one.
func Policies(ctx context.Context, tree source.Tree) (estate.Rulings, []Diagnostic, error) {
	files, err := tree.Files(ctx)
	if err != nil {
		return estate.Rulings{}, nil, err
	}
	parts, err := readAll(ctx, tree, files, Options{Workers: 1})
	if err != nil {
		return estate.Rulings{}, nil, err
	}
	r := newReader()
	none := r.givenContext(nil)
	var all estate.Rulings
	var diags []Diagnostic
	for _, p := range parts {
		if len(p.deferred) > 0 {
			r.readDeferred(p, none)
		}
		all.Policies = append(all.Policies, p.estate.Rulings.Policies...)
		all.Trials = append(all.Trials, p.estate.Rulings.Trials...)
		diags = append(diags, p.diags...)
		for _, at := range foreign(p) {
			diags = append(diags, Diagnostic{Range: at, Severity: Error,
				Summary: "a file of shared policies holds policies and trials only; take this out"})
		}
	}
	return all, sortDiagnostics(diags), nil
}

// foreign gives the places of what a file of shared policies must not declare.
func foreign(p *part) []estate.Range {
	var out []estate.Range
	add := func(list reflect.Value) {
		for i := range list.Len() {
			src := list.Index(i).Elem().FieldByName("Source")
			if s, ok := src.Interface().(estate.Source); ok {
				out = append(out, s.At())
			}
		}
	}
	for _, of := range []reflect.Value{reflect.ValueOf(&p.estate).Elem(), reflect.ValueOf(&p.estate.Rulings).Elem()} {
		for i := range of.NumField() {
			f := of.Field(i)
			switch f.Interface().(type) {
			case []*estate.Policy, []*estate.Trial:
				continue
			}
			if f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Pointer {
				add(f)
			}
		}
	}
	if p.headers > 0 {
		out = append(out, p.estate.Source.At())
	}
	return out
}

// NoSharedPolicies is what is said of a pattern of shared policies that leads
// to no file.
func NoSharedPolicies(e *estate.Estate, pattern, why string) Diagnostic {
	return Diagnostic{Range: e.Source.Attr("policies"), Severity: Error, Summary: fmt.Sprintf("policies: %q %s", pattern, why)}
}
