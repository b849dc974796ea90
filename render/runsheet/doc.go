// Package runsheet prints the plans of lint/sequence as papers: a run sheet in
// Markdown or as a page to print, its steps as JSON or as a table, its windows
// as a calendar.
//
// Every form says first that it is a planning aid, and keeps the caution beside
// the step that needs it. The package decides nothing about order or time.
package runsheet
