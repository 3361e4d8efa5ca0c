package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// pace is how much garbage may pile up before it is collected: so many bytes,
// or where much is held, so many hundredths of that, and at most so many. A
// fixed percentage would collect all the time while a large pattern is read
// first, and take twice the memory that it needs ever after.
type pace struct{ least, perCent, most int }

var (
	// A run is short and a machine has memory.
	paceOfRun = pace{least: 40 << 20, perCent: 200, most: 1000}
	// A server is there all day.
	paceOfServer = pace{least: 14 << 20, perCent: 30, most: 800}
)

// idleGarbage is what is left to lie between two keys, when nothing waits for
// the processor.
const idleGarbage = 6 << 20

// heapInUse is how many bytes are held, and garbage not yet collected.
func heapInUse() int {
	var m runtime.MemStats // package runtime/metrics would tell, and lengthen every start
	runtime.ReadMemStats(&m)
	return int(m.HeapAlloc)
}

var (
	paced atomic.Pointer[pace]
	pacer sync.Once
	// live is what the last collection left, set the percentage that is in force.
	live, set atomic.Int64
)

// tendGarbage sets the pace of collection, now and after each collection.
func tendGarbage(p pace) {
	paced.Store(&p)
	setPace()
	pacer.Do(func() {
		var tend func(*[16]byte)
		tend = func(b *[16]byte) {
			setPace()
			runtime.SetFinalizer(b, tend) // it is called after the next collection
		}
		tend(new([16]byte))
	})
}

// setPace is called when hardly anything was allocated since a collection.
func setPace() {
	p, held := paced.Load(), heapInUse()
	live.Store(int64(held))
	percent := min(max(p.least*100/max(held, 1), p.perCent), p.most)
	if was := int(set.Load()); percent*5 < was*4 || percent*4 > was*5 {
		set.Store(int64(percent))
		debug.SetGCPercent(percent)
	}
}

var collecting atomic.Bool

// collectIdly collects in the background where there is enough to collect, so
// that the next key does not meet it.
func collectIdly() {
	if heapInUse()-int(live.Load()) < idleGarbage || !collecting.CompareAndSwap(false, true) {
		return
	}
	go func() {
		defer collecting.Store(false)
		runtime.GC()
	}()
}

// roomy is how much of the heap is asked for in large pages; worthRoomy is how
// many bytes of patterns are worth asking.
const (
	roomy      = 48 << 20
	worthRoomy = 128 << 10
)

// largePages makes the part of the heap that comes next one of large pages,
// where the system has them: a long pattern touches tens of megabytes for the
// first time, and in pages of 4 kB that takes longer than reading it. What is
// not touched takes no memory.
var largePages = sync.OnceFunc(func() {
	block := make([]byte, roomy)
	if adviseLarge(block) {
		runtime.GC() // the block is free again, and stays as it was advised
	}
})

// readyMemory sets the memory up for a run over some patterns.
func readyMemory(targets []target) {
	tendGarbage(paceOfRun)
	size := int64(0)
	for _, t := range targets {
		if info, err := os.Stat(t.path); err == nil {
			size += info.Size()
		}
		if size >= worthRoomy {
			largePages()
			return
		}
	}
}
