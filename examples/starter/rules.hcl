# What the site says about rules. "cagenut explain" lists the built-in ones.

# Change a built-in rule where the site knows better:
#
# adjust "load/heavy-high" {
#   limit  = given.lift_limit
#   level  = "warning"
#   reason = "low ceiling, no lift"
# }

# Accept a finding, with a reason and an end:
#
# waive "fit/too-deep" {
#   on     = rack.a-1.server-1
#   until  = "2099-01-31"
#   reason = "the new frame arrives in January"
#   by     = "facilities"
# }

# Add a rule of your own:
#
# policy "heavy-low" {
#   each    = mount
#   where   = mount.mass > kg(25)
#   require = mount.top <= 24
#   say     = "${mount.name} weighs ${mount.mass} kg and reaches U${mount.top}"
#   level   = "error"
#   reason  = "two people lift to the waist here, no further"
# }

# Say when changes may be made, and when not:
#
# window "tuesday-night" {
#   site   = site.main
#   days   = ["tue"]
#   opens  = "22:00"
#   closes = "02:00"
#   margin = "30 min"
#   people = 2
# }
