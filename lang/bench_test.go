package lang

import (
	"context"
	"os"
	"runtime"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/source"
	"cagenut/testdata/bulk"
)

// bulkRacks is how many racks the benchmarks read; CAGENUT_BENCH_RACKS sets
// another number, such as the 10000 that the goals are given for.
func bulkRacks(b *testing.B) int {
	n, err := strconv.Atoi(os.Getenv("CAGENUT_BENCH_RACKS"))
	if err != nil {
		return 500
	}
	return n
}

func bulkTree(b *testing.B) (source.Tree, []source.File, int64) {
	tree := source.Memory("bulk", bulk.Files(bulkRacks(b)))
	files, err := tree.Files(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	var size int64
	for _, f := range files {
		size += f.Size
	}
	return tree, files, size
}

// BenchmarkLoad is to be compared with BenchmarkBareParse of the same run: the
// goal is at most 1.15 times its time, rules included.
func BenchmarkLoad(b *testing.B) {
	tree, _, size := bulkTree(b)
	b.SetBytes(size)
	b.ReportAllocs()
	for b.Loop() {
		_, diags, err := Load(context.Background(), tree, Options{})
		if err != nil || len(diags) > 0 {
			b.Fatal(err, diags)
		}
	}
}

// BenchmarkBareParse parses the same bytes into syntax trees and drops them, on
// as many cores: the floor of whatever reads HCL.
func BenchmarkBareParse(b *testing.B) {
	tree, files, size := bulkTree(b)
	b.SetBytes(size)
	b.ReportAllocs()
	for b.Loop() {
		restore := boundMemory(size)
		var next atomic.Int64
		var wait sync.WaitGroup
		for range runtime.GOMAXPROCS(0) {
			wait.Go(func() {
				for {
					i := int(next.Add(1)) - 1
					if i >= len(files) {
						return
					}
					src, err := tree.Read(context.Background(), files[i])
					if err != nil {
						b.Error(err)
						return
					}
					if _, diags := hclsyntax.ParseConfig(src, files[i].Path, hcl.InitialPos); diags.HasErrors() {
						b.Error(diags)
					}
				}
			})
		}
		wait.Wait()
		restore()
	}
}
