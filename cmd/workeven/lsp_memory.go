package main

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync/atomic"
)

// How much garbage the server lets pile up before it is collected: so many
// bytes, or where a session holds much, so many hundredths of that. A fixed
// percentage would collect all the time while a large pattern is read first, and
// take twice the memory that it needs ever after. Between two keys, when nothing
// waits for the processor, less is enough.
const (
	leastGarbage   = 14 << 20
	garbagePerCent = 30
	mostPerCent    = 800
	idleGarbage    = 6 << 20
)

func heapMetric(name string) int {
	sample := []metrics.Sample{{Name: name}}
	metrics.Read(sample)
	return int(sample[0].Value.Uint64())
}

// liveHeap is what the last collection left.
func liveHeap() int { return heapMetric("/gc/heap/live:bytes") }

// tendGarbage sets the pace of collection, now and after each collection.
func tendGarbage() {
	set := 0
	var tend func(*[16]byte)
	tend = func(b *[16]byte) {
		percent := min(max(leastGarbage*100/max(liveHeap(), 1), garbagePerCent), mostPerCent)
		if percent*5 < set*4 || percent*4 > set*5 {
			set = percent
			debug.SetGCPercent(percent)
		}
		runtime.SetFinalizer(b, tend) // it is called after the next collection
	}
	tend(new([16]byte))
}

var collecting atomic.Bool

// collectIdly collects in the background where there is enough to collect, so
// that the next key does not meet it.
func collectIdly() {
	if heapMetric("/memory/classes/heap/objects:bytes")-liveHeap() < idleGarbage || !collecting.CompareAndSwap(false, true) {
		return
	}
	go func() {
		defer collecting.Store(false)
		runtime.GC()
	}()
}
