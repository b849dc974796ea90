policy "heavy-low" {
  each    = mount
  where   = mount.mass > kg(30)
  require = mount.top <= 24
  say     = "${mount.name} weighs ${mount.mass} kg and reaches U${mount.top}"
  level   = "warning"
  reason  = "two people lift to the waist here, no further"
}

waive "load/heavy-high" {
  on     = rack.qt-w.office-ups-1
  until  = "2027-03-31"
  reason = "moves to the floor when the counter is rebuilt"
  by     = "facilities"
}
