package rules

import "cagenut/lint"

// plan lists the rules of the group "plan".
var plan = []*lint.Rule{}
