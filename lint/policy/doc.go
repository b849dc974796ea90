// Package policy compiles the policies of a site: expressions in HCL's own
// syntax, judged on every mount, rack, feed and so on of an estate.
//
// An expression is compiled once, with static types, into closures over the
// concrete values of the model ([Compile]). A wrong name, a wrong type or a
// wrong unit is therefore a mistake at its own place in the policy, before
// anything is looked at, and judging a simple policy costs some tens of
// nanoseconds a mount. What the compiler cannot take is refused.
//
// What an expression can reach is described by a [Class]: names with a type, a
// unit, a sentence of documentation and a getter. number.go holds exact
// numbers, types.go types and units, schema.go classes, compile*.go the
// compiler, functions.go the functions.
//
// A value may be unknown, because a figure is missing or nobody has measured
// it yet. Unknown is three-state as in HCL: false && unknown is false, true &&
// unknown is unknown. A policy whose condition comes out unknown is not
// checked, and says why; so is one that divides by zero. Neither is ever taken
// for a condition that holds.
//
// The meaning of an expression is HCL's, with these limits and additions.
// Numbers are exact fractions where HCL rounds to 512 bits. A number may have
// a unit, which is checked when the policy is compiled. Nothing is converted
// silently, except to text inside a template. There are dates.
package policy
