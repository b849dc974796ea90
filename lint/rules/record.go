package rules

import "cagenut/lint"

// record lists the rules of the group "record".
var record = []*lint.Rule{duplicate, noOwner, unknownName, wrongCount, StaleFigure, pastRemoval, notAudited, waiverEnded, waiverIdle}
