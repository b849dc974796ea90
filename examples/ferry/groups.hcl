group "core" {
  of    = [rack.hq-a.core-1, rack.hq-a.core-2]
  up    = 1
  apart = "feed"
}

group "firewalls" {
  of    = [rack.hq-a.firewall-1, rack.hq-a.firewall-2]
  up    = 1
  apart = "feed"
}

group "ticketing" {
  of    = [rack.hq-a.ticket-1, rack.hq-a.ticket-2]
  up    = 1
  apart = "feed"
}
