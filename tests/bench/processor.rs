//! What a process or a thread has used of a processor, as the kernel counts it: it hardly swings with what else runs on the machine.

use std::fs;
use std::path::Path;

/// Nanoseconds of one thread, or of the first one of a process, by its folder under /proc.
pub fn ns_in(folder: impl AsRef<Path>) -> Option<u64> {
    fs::read_to_string(folder.as_ref().join("schedstat")).ok()?.split(' ').next()?.parse().ok()
}

/// Nanoseconds of a process, all its threads together.
pub fn ns_of(process: u32) -> u64 {
    let threads = fs::read_dir(format!("/proc/{process}/task")).expect("its threads");
    threads.filter_map(|thread| ns_in(thread.ok()?.path())).sum()
}
