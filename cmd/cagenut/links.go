package main

import (
	"net/url"
	"strconv"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/render/review"
)

// linker gives the function that finds and links a line on either side.
func linker(p *program, template string, before, after *reading) func(estate.Range, bool) review.Place {
	if template == "" {
		template = linksFromPipeline(p.env)
	}
	return func(r estate.Range, old bool) review.Place {
		from := after
		if old {
			from = before
		}
		at := review.Place{File: from.path(r.File), Line: 1}
		if t := from.text(r.File); t != nil {
			at.Line = t.Position(int(r.Start)).Line
		}
		commit := source.CommitOf(from.tree)
		if template == "" || commit == nil {
			return at
		}
		path := (&url.URL{Path: at.File}).EscapedPath()
		// Brackets would end a link of Markdown.
		path = strings.NewReplacer("(", "%28", ")", "%29").Replace(path)
		at.Link = strings.NewReplacer("{commit}", commit.Hash.String(), "{path}", path, "{line}", strconv.Itoa(at.Line)).Replace(template)
		return at
	}
}

// linksFromPipeline gives the template of links that the environment of a
// pipeline allows, or "".
func linksFromPipeline(env func(string) string) string {
	if server, repo := env("GITHUB_SERVER_URL"), env("GITHUB_REPOSITORY"); server != "" && repo != "" {
		return server + "/" + repo + "/blob/{commit}/{path}#L{line}"
	}
	if project := env("CI_PROJECT_URL"); project != "" && env("GITLAB_CI") != "" {
		return project + "/-/blob/{commit}/{path}#L{line}"
	}
	return ""
}
