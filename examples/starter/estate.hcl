# The header of the estate. The folder that holds this file is its root: every
# .hcl file below it belongs, in whatever files and folders suit you. The order
# of files and blocks never matters.
estate "my-estate" {
  language = 1        # version of the language
  rules    = "2026.1" # rule set: a later release adds no finding until this is raised
  lengths  = "mm"     # how lengths are printed: "mm" or "in"
  # skip   = ["infra/**"] # files that other tools own
}

# Figures with a name, used as given.lift_limit. Any quantity is written with
# its unit, metric or imperial: "25 kg", "55 lb", "740 mm", "29.1 in".
given {
  lift_limit = "25 kg" # what one person lifts here
}
