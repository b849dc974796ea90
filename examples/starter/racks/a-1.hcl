rack "a-1" {
  row   = row.row-1
  place = 1
  frame = frame.cabinet-42
  feeds = [feed.a, feed.b]
  owner = "operations"

  mount "patch-1" {
    at        = 42
    equipment = equipment.patch-24
    owner     = "network"
  }

  mount "switch-1" {
    at        = 41
    equipment = equipment.access-switch
    feeds     = [feed.a]
    owner     = "network"
  }

  mount "server-1" {
    at        = "3-4" # the smallest unit is enough; a run states the height, too
    equipment = equipment.server
    feeds     = [feed.a, feed.b] # one for each inlet
    owner     = "operations"
  }

  # Units held for later, with an end and a reason.
  reserve "second-server" {
    at     = "5-6"
    until  = "2099-12-31"
    reason = "second server"
  }

  # Panels over open units keep the warm air from coming back to the front.
  blank { at = "1-2" }
  blank { at = "5-40" }
}
