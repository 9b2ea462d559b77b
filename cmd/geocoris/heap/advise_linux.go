package heap

import "syscall"

// adviseLarge lets memory come in large pages. Where that is refused it comes as ever.
func adviseLarge(memory []byte) { _ = syscall.Madvise(memory, syscall.MADV_HUGEPAGE) }
