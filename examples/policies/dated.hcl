# Every rack states when it was last compared with the record.

policy "rack-dated" {
  each    = rack
  require = known(rack.seen)
  say     = "${rack.name} does not say when it was last seen; write seen = \"${today}\" after looking"
  level   = "note"
}

trial "rack-dated" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    rack "a" {
      frame = frame.cab
    }
    rack "b" {
      frame = frame.cab
      seen  = "2026-09-14"
    }
  END
  finds  = ["rack.a"]
}
