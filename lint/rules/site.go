package rules

import "cagenut/lint"

// site lists the rules of the group "site".
var site = []*lint.Rule{seismicRating, roomHeight, narrowAisle, noBond, bondChained, ventedBattery, noPassage}
