rack "hq-a" {
  row   = row.hq-1
  place = 1
  frame = frame.cab-42
  feeds = [feed.a, feed.b]
  owner = "shore-systems"
  bond  = bar.hq

  mount "ups-1" {
    at        = 1
    equipment = equipment.ups-6k
    serial    = "BW-1001"
  }
  mount "battery-1" {
    at        = 5
    equipment = equipment.battery-pack
    serial    = "BW-1002"
  }
  mount "ticket-1" {
    at        = 8
    equipment = equipment.ticket-server
    feeds     = [feed.a, feed.b]
    serial    = "BW-2201"
  }
  mount "ticket-2" {
    at        = 10
    equipment = equipment.ticket-server
    feeds     = [feed.a, feed.b]
    serial    = "BW-2202"
  }
  mount "store-1" {
    at        = 12
    equipment = equipment.storage-24
    feeds     = [feed.a, feed.b]
    serial    = "BW-3101"
  }

  reserve "autumn" {
    at     = "30-33"
    until  = "2027-11-30"
    reason = "gate controller of the new berth"
  }

  mount "console" {
    at        = 20
    equipment = equipment.console-drawer
    serial    = "BW-5001"
  }
  mount "core-1" {
    at        = 24
    equipment = equipment.core-switch
    feeds     = [feed.a, feed.b]
    serial    = "BW-4470"
    owner     = "network"
  }
  mount "manager-1" {
    at        = 26
    equipment = equipment.cord-manager
    owner     = "network"
  }
  mount "panel-1" {
    at        = 27
    equipment = equipment.panel-24
    owner     = "network"
  }
  mount "panel-2" {
    at        = 28
    equipment = equipment.panel-24
    owner     = "network"
  }
  mount "core-2" {
    at        = 38
    equipment = equipment.core-switch
    feeds     = [feed.a, feed.b]
    serial    = "BW-4471"
    owner     = "network"
  }
  mount "firewall-1" {
    at        = 40
    equipment = equipment.firewall
    feeds     = [feed.a]
    serial    = "BW-4501"
    owner     = "network"
  }
  mount "firewall-2" {
    at        = 41
    equipment = equipment.firewall
    feeds     = [feed.a]
    serial    = "BW-4502"
    owner     = "network"
  }

  blank { at = 7 }
  blank { at = "14-19" }
  blank { at = "21-23" }
  blank { at = 25 }
  blank { at = 29 }
  blank { at = "34-37" }
  blank { at = 39 }
  blank { at = 42 }

  zero_u "strip-a" {
    equipment = equipment.strip-16
    side      = "left"
    plane     = "rear"
    from      = "60 mm"
  }
  zero_u "strip-b" {
    equipment = equipment.strip-16
    side      = "right"
    plane     = "rear"
    from      = "60 mm"
  }
}
