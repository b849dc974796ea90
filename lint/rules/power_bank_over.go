package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// bankOver reports a bank of a strip that carries more than its breaker may, in
// normal state or with anything else lost: once for each bank, in the first
// state in which it is over.
var bankOver = &lint.Rule{
	ID:      "power/bank-over",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a bank of a strip carries more than its breaker may",
	Why: `Banks have breakers of their own. A strip at 70 % of its feed can have one bank
that trips, and with it the eight outlets that somebody filled first because
they were nearest.`,
	Source:  "the strip maker's sheet; NFPA 70 articles 210.19 to 215.3 for the share",
	Omits:   "power factors that are not declared (taken as one where a draw is in watts)",
	Decides: electrician,
	Limits:  []lint.Limit{continuousLimit},
	Estate:  checkBankOver,
	Bad:     bankExample(3, 0),
	Good:    bankExample(2, 1),
}

func bankExample(first, second int) string {
	s := `
site "quay" { continuous = 1.0 }
room "hq" { site = site.quay }
frame "cab" {
  system = "19in"
  units  = 42
}
feed "a" {
  room    = room.hq
  source  = "ups"
  voltage = "230 V"
  rated   = "32 A"
}
equipment "strip-16" {
  kind    = "strip"
  height  = "1000 mm"
  inlets  = { type = "60309-32-3-p", count = 1, needs = 1 }
  outlets = [{ type = "c19", count = 8, bank = "1" }, { type = "c19", count = 8, bank = "2" }]
  banks   = [{ name = "1", rated = "16 A" }, { name = "2", rated = "16 A" }]
}
equipment "chassis" {
  height = "4U"
  draw   = "1500 W"
  inlets = { type = "c20", count = 1, needs = 1 }
}
rack "r1" {
  frame = frame.cab
  zero_u "strip-a" {
    equipment = equipment.strip-16
    side      = "left"
    from      = "50 mm"
    feeds     = [feed.a]
  }
`
	for i := range first + second {
		outlet := i + 1
		if i >= first {
			outlet = 9 + i - first
		}
		s += fmt.Sprintf(`  mount "chassis-%d" {
    at        = %d
    equipment = equipment.chassis
    cords     = { to = "strip-a", outlet = %d }
  }
`, i+1, 1+4*i, outlet)
	}
	return s + "}\n"
}

func checkBankOver(p *lint.Pass) {
	supply := p.Supply()
	for _, strip := range supply.Strips() {
		if strip.Equipment != nil && len(strip.Equipment.Banks) > 0 {
			judgeBanks(p, supply, strip)
		}
	}
}

func judgeBanks(p *lint.Pass, supply *estate.Supply, strip *estate.Mount) {
	told := map[*estate.Bank]bool{}
	silent := false
	unchecked := func(why string) {
		if why != "" && !silent {
			silent = true
			p.MountUnchecked(strip, "%s", why)
		}
	}
	for _, state := range normalFirst(supply.StatesOf(supply.Behind(strip))) {
		banks, why := supply.Banks(strip, outageOf(state))
		unchecked(why)
		for i := range banks {
			b := &banks[i]
			if told[b.Bank] || b.Bank.Rated == 0 {
				continue
			}
			limit := bankAllowance(p, b)
			level, over := limit.over(b.Current)
			if !over {
				if state == nil && len(b.Lacks) > 0 {
					unchecked(b.Lacks[0].Why)
				}
				continue
			}
			told[b.Bank] = true
			f := lint.AtMount(strip, "equipment")
			f.Level = level
			f.Others = []string{"bank " + b.Bank.Name}
			with := withLost(&f, state)
			f.Message = fmt.Sprintf("%sbank %s of %s carries %s (%s%s); %s", with, b.Bank.Name, strip.Ref(), b.Current.Beside(limit.most), amount(b.Vector), atLeast(len(b.Lacks) == 0), limit.says())
			f.Related = append(f.Related, lint.Related{At: strip.Equipment.Source.Attr("banks"), Message: "the bank is declared here"})
			p.Report(f)
		}
	}
}

// bankAllowance is what a bank may carry for hours: the share of its feed's
// site.
func bankAllowance(p *lint.Pass, b *estate.BankLoad) allowance {
	feed := *b.Feed
	feed.Rated = estate.Is(b.Bank.Rated)
	a, _ := allowed(p, &feed)
	if a.most == 0 {
		a.most = quantity.Of(b.Bank.Rated.Amperes(), quantity.Ampere)
	}
	return a
}
