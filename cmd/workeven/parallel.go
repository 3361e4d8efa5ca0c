package main

import (
	"runtime"
	"sync"
)

// ahead is how many results a worker may be ahead of the one that is next to
// be shown, so that a slow file does not fill the memory with those behind it.
const ahead = 8

// inOrder does work on every item, several at once, and hands each result on
// in the order of the items. jobs of 0 means one for each processor.
func inOrder[T, R any](items []T, jobs int, work func(T) R, give func(T, R)) {
	if jobs == 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	jobs = min(jobs, len(items))
	results := make([]chan R, len(items))
	for i := range results {
		results[i] = make(chan R, 1)
	}
	next, room := make(chan int), make(chan struct{}, jobs*ahead)
	go func() {
		for i := range items {
			room <- struct{}{}
			next <- i
		}
		close(next)
	}()
	var workers sync.WaitGroup
	for range jobs {
		workers.Go(func() {
			for i := range next {
				results[i] <- work(items[i])
			}
		})
	}
	for i, item := range items {
		give(item, <-results[i])
		<-room
	}
	workers.Wait()
}
