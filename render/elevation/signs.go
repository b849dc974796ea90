package elevation

// signs are the characters of a drawing. Each is one cell wide.
type signs struct {
	single      [2]string // left and right end of a piece one row high
	top         [2]string // of the uppermost row of a higher one
	middle      [2]string
	bottom      [2]string
	far         [2]string // of what hangs on the other face
	post        string
	door        string
	held        string
	blank       string
	unusable    string
	up, down    string // the direction in which units are counted
	bar         string // a piece beside the posts
	body        string // in a side view: the body
	cords       string // room for cords
	before      string // handles and cords before the mounting face
	clash       string
	unknown     string
	times, dash string
}

var plainSigns = signs{
	single: [2]string{"[", "]"}, top: [2]string{"/", "\\"}, middle: [2]string{"|", "|"}, bottom: [2]string{"\\", "/"},
	far: [2]string{"(", ")"}, post: "I", door: "'", held: "#", blank: ":", unusable: "x", up: "^", down: "v", bar: "|",
	body: " ", cords: "~", before: "-", clash: "X", unknown: "?", times: "x", dash: "-",
}

var fullSigns = signs{
	single: [2]string{"[", "]"}, top: [2]string{"⎡", "⎤"}, middle: [2]string{"⎢", "⎥"}, bottom: [2]string{"⎣", "⎦"},
	far: [2]string{"(", ")"}, post: "┃", door: "┊", held: "#", blank: ":", unusable: "x", up: "↑", down: "↓", bar: "│",
	body: " ", cords: "~", before: "-", clash: "X", unknown: "?", times: "×", dash: "–",
}

func signsFor(ascii bool) *signs {
	if ascii {
		return &plainSigns
	}
	return &fullSigns
}
