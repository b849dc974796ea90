# Comms frame of the ship, radio room. Unit 1 is at the top.
rack "s1" {
  row   = row.radio-1
  place = 1
  frame = frame.shock-24
  feeds = [feed.ship-ups, feed.ship-emergency]
  owner = "ship"

  mount "ups-1" {
    at        = "3-5"
    equipment = equipment.ship-ups
    serial    = "BW-1201"
  }
  mount "server-1" {
    at        = "9-10"
    equipment = equipment.ship-server
    feeds     = [feed.ship-ups, feed.ship-emergency]
    serial    = "BW-2301"
  }
  mount "gateway-1" {
    at        = "12-13"
    equipment = equipment.radio-gateway
    feeds     = [feed.ship-ups]
    serial    = "BW-4701"
  }
  mount "recorder-1" {
    at        = "16-17"
    equipment = equipment.voyage-recorder
    feeds     = [feed.ship-ups, feed.ship-emergency]
    serial    = "BW-4702"
  }
  mount "router-1" {
    at        = 22
    equipment = equipment.ship-router
    feeds     = [feed.ship-ups]
    serial    = "BW-4703"
  }
  mount "panel-1" {
    at        = 23
    equipment = equipment.ship-panel
    slack     = "1.4 m"
  }
  mount "switch-1" {
    at        = 24
    equipment = equipment.ship-switch
    feeds     = [feed.ship-ups]
    serial    = "BW-4704"
  }
}
