package estate

// Restart is what equipment does when its supply returns after a loss.
type Restart uint8

// The settings of a restart.
const (
	NoRestart   Restart = iota // not declared
	RestartOn                  // it starts by itself
	RestartOff                 // it stays off until somebody starts it
	RestartLast                // it starts if it ran when its supply was lost
)

// Restarts lists the settings as the language writes them.
var Restarts = []string{"", "on", "off", "last"}

// String names the setting as the language writes it.
func (r Restart) String() string { return Restarts[r] }

// ByItself reports whether something that ran starts again without anybody's
// doing.
func (r Restart) ByItself() bool { return r == RestartOn || r == RestartLast }
