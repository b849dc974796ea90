// Package lint judges an estate by rules.
//
// A [Rule] is a value: it holds its documentation and a function over a
// [Pass]. [Run] applies rules to one estate and returns sorted findings, and
// with them what could not be judged because a figure is missing. A rule
// therefore has three results: it holds, it does not hold, or it was not
// checked.
//
// The built-in rules are in lint/rules, site policies in lint/policy. The
// package reads no files and prints nothing: parsing belongs to lang,
// presentation to render.
package lint
