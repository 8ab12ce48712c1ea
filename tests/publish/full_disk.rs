//! A real disk that is full, and one that can only be read: a small one of memory, mounted for the test.

use std::path::{Path, PathBuf};
use std::process::Command;

use compasario::disk;

use crate::support::{beside, is_whole, large_site, old_site};

/// A small disk, taken off again at the end.
struct Disk {
    _directory: tempfile::TempDir,
    path: PathBuf,
}

impl Disk {
    /// None where this user may not mount one. The same cases run without a disk in `kills`, by calls that fail.
    fn mount(size: &str) -> Option<Self> {
        let directory = tempfile::tempdir().unwrap();
        let path = directory.path().join("disk");
        std::fs::create_dir(&path).unwrap();
        let mounted = mount(&["-t", "tmpfs", "-o", &format!("size={size}"), "tmpfs"], &path);
        if !mounted {
            println!("no disk could be mounted here");
        }
        mounted.then_some(Self {
            _directory: directory,
            path,
        })
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.path).status();
    }
}

fn mount(arguments: &[&str], path: &Path) -> bool {
    let ended = Command::new("mount").args(arguments).arg(path).output();
    ended.is_ok_and(|output| output.status.success())
}

#[test]
fn a_full_disk_leaves_the_old_site() {
    let Some(disk) = Disk::mount("512k") else { return };
    let out = disk.path.join("site");
    disk::publish(&out, old_site()).unwrap();
    let message = disk::publish(&out, large_site("much", 600)).unwrap_err().to_string();
    assert!(message.ends_with("the disk is full"), "{message}");
    assert!(is_whole(&out, &old_site()));
    assert_eq!(beside(&out), Vec::<String>::new());
    disk::publish(&out, large_site("little", 20)).unwrap();
    assert!(is_whole(&out, &large_site("little", 20)));
}

#[test]
fn what_can_only_be_read_is_left_alone() {
    let Some(disk) = Disk::mount("512k") else { return };
    let out = disk.path.join("site");
    disk::publish(&out, old_site()).unwrap();
    assert!(mount(&["-o", "remount,ro"], &disk.path));
    let message = disk::publish(&out, large_site("new", 3)).unwrap_err().to_string();
    assert!(message.ends_with("this can only be read, not written"), "{message}");
    assert!(is_whole(&out, &old_site()));
    assert!(mount(&["-o", "remount,rw"], &disk.path));
}
