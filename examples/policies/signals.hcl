# The class of a signal is declared in the catalogue as signal = "mic", "line",
# "radio", "digital", "mains" or "loudspeaker".

policy "quiet-from-loud" {
  each    = mount
  where   = among(equipment.signal, ["mic", "radio"])
  require = all([for m in mount.neighbours.within_2u : !among(m.equipment.signal, ["mains", "loudspeaker"])])
  say     = "${mount.name} (${equipment.signal}) has within two units: ${joined([for m in mount.neighbours.within_2u : m.name if among(m.equipment.signal, ["mains", "loudspeaker"])], ", ")}"
}

# A receiver hears the switching supply and the clock of a digital neighbour.
policy "receiver-from-digital" {
  each    = mount
  where   = equipment.signal == "radio"
  require = all([for m in mount.neighbours.within_2u : m.equipment.signal != "digital"])
  say     = "${mount.name} is beside digital gear"
  level   = "note"
}

trial "quiet-from-loud" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "receiver" {
      height = "1U"
      signal = "radio"
    }
    equipment "amplifier" {
      height = "2U"
      signal = "loudspeaker"
    }
    equipment "plain" {
      height = "1U"
    }
    rack "a" {
      frame = frame.cab
      mount "rx-near" {
        at        = 10
        equipment = equipment.receiver
      }
      mount "amp" {
        at        = 12
        equipment = equipment.amplifier
      }
      mount "rx-far" {
        at        = 17
        equipment = equipment.receiver
      }
      mount "plain" {
        at        = 9
        equipment = equipment.plain
      }
    }
  END
  finds  = ["rack.a.rx-near"]
}
trial "receiver-from-digital" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "receiver" {
      height = "1U"
      signal = "radio"
    }
    equipment "correlator" {
      height = "4U"
      signal = "digital"
    }
    rack "a" {
      frame = frame.cab
      mount "rx" {
        at        = 10
        equipment = equipment.receiver
      }
      mount "cor" {
        at        = 11
        equipment = equipment.correlator
      }
    }
    rack "b" {
      frame = frame.cab
      mount "rx" {
        at        = 10
        equipment = equipment.receiver
      }
      mount "cor" {
        at        = 13
        equipment = equipment.correlator
      }
    }
  END
  finds  = ["rack.a.rx", "rack.b.rx"]
}
