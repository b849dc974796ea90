package sequence

// schedule puts the blocks into windows.
func (p *Plan) schedule(o Options) error {
	for i := range p.Steps {
		s := &p.Steps[i]
		s.BackMinutes = p.WithContingency(p.back(i))
		s.ForwardMinutes = p.WithContingency(p.on(i))
	}
	return nil
}
