// Package parts prints lists of mounting hardware, and what a change needs of
// it, as text, CSV and JSON.
package parts
