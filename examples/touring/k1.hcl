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
  mount "processor-1" {
    at        = 6
    equipment = equipment.processor
    feeds     = [feed.l1]
    serial    = "LS-104"
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

# What is before the amplifiers comes on after them, and is heard.
sequence "stage-left" {
  step "amplifiers" { on = [rack.k1.amp-1, rack.k1.amp-2, rack.k1.amp-3] }
  step "processing" {
    on    = [rack.k1.processor-1]
    delay = "2 s"
  }
}
