rack "hq-b" {
  row   = row.hq-1
  place = 2
  frame = frame.cab-42
  feeds = [feed.c, feed.d]
  owner = "shore-systems"
  bond  = bar.hq

  mount "archive-1" {
    at        = 8
    equipment = equipment.storage-24
    feeds     = [feed.c, feed.d]
    serial    = "BW-3102"
  }
  mount "access-1" {
    at        = 40
    equipment = equipment.access-switch
    feeds     = [feed.d]
    serial    = "BW-4601"
    owner     = "network"
  }
  mount "panel-1" {
    at        = 41
    equipment = equipment.panel-24
    owner     = "network"
  }

  blank { at = "1-7" }
  blank { at = "10-39" }
  blank { at = 42 }
}
