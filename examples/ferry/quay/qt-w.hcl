# Wall frame behind the counter of the ticket office.
rack "qt-w" {
  row   = row.tickets-1
  place = 1
  frame = frame.wall-9
  feeds = [feed.tickets]
  owner = "ticket-office"
  bond  = bar.tickets

  mount "office-ups-1" {
    at        = "1-2"
    equipment = equipment.office-ups
    serial    = "BW-1101"
  }
  mount "access-1" {
    at        = 5
    equipment = equipment.access-switch
    feeds     = [feed.tickets]
    serial    = "BW-4602"
    owner     = "network"
  }
  mount "panel-1" {
    at        = 7
    equipment = equipment.panel-24
    owner     = "network"
  }
}
