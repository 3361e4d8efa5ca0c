package main

import "syscall"

// adviseLarge says whether the system was told to back a block with large pages.
func adviseLarge(block []byte) bool { return syscall.Madvise(block, syscall.MADV_HUGEPAGE) == nil }
