# Amplifier case. Unit 1 is at the top, as the crew counts.
rack "k1" {
  row   = row.cases
  place = 1
  frame = frame.case-16
  feeds = [feed.l1, feed.l2]
  owner = "sound"

  mount "drawer-1" {
    at        = 1
    equipment = equipment.drawer
  }
  mount "panel-front" {
    at        = 4
    equipment = equipment.panel
  }
  mount "amp-1" {
    at        = 11
    equipment = equipment.amplifier
    feeds     = [feed.l1]
    serial    = "LS-101"
  }
  mount "amp-2" {
    at        = 13
    equipment = equipment.amplifier
    feeds     = [feed.l2]
    serial    = "LS-102"
  }
  mount "amp-3" {
    at        = 15
    equipment = equipment.amplifier
    feeds     = [feed.l2]
    serial    = "LS-102" # the label was copied
  }
}
