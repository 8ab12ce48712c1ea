use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::path::{Path, PathBuf};

use rustix::fs::FlockOperation;
use serde::{Deserialize, Serialize};

/// A call of the file system, for whoever wants to be told.
#[derive(Debug, Clone, Copy)]
pub struct Call<'a> {
    pub name: &'static str,
    pub path: &'a Path,
    pub when: When,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    Before,
    After,
}

/// What may be read by everybody and written by the owner, as web servers want it, whatever the shell's mask.
const FILE_MODE: u32 = 0o644;
const FOLDER_MODE: u32 = 0o755;

/// Bytes written or compared at once.
const PIECE: usize = 1 << 16;

/// The calls that this room makes. Nothing else in it touches the file system.
pub(super) struct Calls<'a> {
    told: &'a dyn Fn(&Call<'_>) -> io::Result<()>,
}

/// What tells a file from the one it was: any writing to it, and any other file in its place, gives another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
pub struct Stamp {
    pub bytes: u64,
    /// When it was last written: seconds, and parts of one in thousand millionths.
    pub written: (i64, i64),
    /// Which file it is, whatever it is called.
    pub inode: u64,
}

impl Stamp {
    fn of(metadata: &fs::Metadata) -> Self {
        Self {
            bytes: metadata.len(),
            written: (metadata.mtime(), metadata.mtime_nsec()),
            inode: metadata.ino(),
        }
    }
}

/// What stands at a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stands {
    Nothing,
    File {
        stamp: Stamp,
        mode: u32,
    },
    Folder,
    /// A link, a pipe: nothing that we write.
    Other,
}

impl<'a> Calls<'a> {
    pub(super) fn new(told: &'a dyn Fn(&Call<'_>) -> io::Result<()>) -> Self {
        Self { told }
    }

    fn call<T>(&self, name: &'static str, path: &Path, act: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
        let tell = |when| (self.told)(&Call { name, path, when });
        tell(When::Before)?;
        let done = act()?;
        tell(When::After)?;
        Ok(done)
    }

    pub(super) fn real_path(&self, path: &Path) -> io::Result<PathBuf> {
        self.call("real path", path, || fs::canonicalize(path))
    }

    pub(super) fn look(&self, path: &Path) -> io::Result<Stands> {
        let metadata = self.call("look", path, || match fs::symlink_metadata(path) {
            Ok(metadata) => Ok(Some(metadata)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        })?;
        Ok(match metadata {
            None => Stands::Nothing,
            Some(metadata) if metadata.is_dir() => Stands::Folder,
            Some(metadata) if metadata.is_file() => Stands::File {
                stamp: Stamp::of(&metadata),
                mode: metadata.permissions().mode() & 0o7777,
            },
            Some(_) => Stands::Other,
        })
    }

    /// The names in a folder, sorted.
    pub(super) fn list(&self, folder: &Path) -> io::Result<Vec<std::ffi::OsString>> {
        self.call("list", folder, || {
            let entries = fs::read_dir(folder)?.map(|entry| entry.map(|entry| entry.file_name()));
            let mut names = entries.collect::<io::Result<Vec<_>>>()?;
            names.sort();
            Ok(names)
        })
    }

    pub(super) fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        self.call("read", path, || fs::read(path))
    }

    pub(super) fn make_folder(&self, path: &Path) -> io::Result<()> {
        self.call("make folder", path, || fs::create_dir(path))?;
        self.call("mode", path, || {
            fs::set_permissions(path, fs::Permissions::from_mode(FOLDER_MODE))
        })
    }

    pub(super) fn make_folders_to(&self, path: &Path) -> io::Result<()> {
        self.call("make folders", path, || fs::create_dir_all(path))
    }

    /// A new file with these bytes.
    pub(super) fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut file = self.create(path)?;
        for piece in bytes.chunks(PIECE) {
            self.call("write", path, || file.write_all(piece))?;
        }
        self.finish(path, &file)
    }

    /// A new file with the bytes of another.
    pub(super) fn copy(&self, from: &Path, path: &Path) -> io::Result<()> {
        let mut source = self.call("open", from, || File::open(from))?;
        let mut file = self.create(path)?;
        loop {
            let mut piece = Vec::new();
            self.call("read", from, || {
                Read::by_ref(&mut source)
                    .take(PIECE as u64 * 16)
                    .read_to_end(&mut piece)
            })?;
            if piece.is_empty() {
                return self.finish(path, &file);
            }
            self.call("write", path, || file.write_all(&piece))?;
        }
    }

    fn create(&self, path: &Path) -> io::Result<File> {
        self.call("create", path, || {
            OpenOptions::new().write(true).create_new(true).open(path)
        })
    }

    fn finish(&self, path: &Path, file: &File) -> io::Result<()> {
        self.call("mode", path, || {
            file.set_permissions(fs::Permissions::from_mode(FILE_MODE))
        })
    }

    /// A second name for a file. Some file systems have none.
    pub(super) fn link(&self, from: &Path, path: &Path) -> io::Result<()> {
        self.call("link", path, || fs::hard_link(from, path))
    }

    /// The file has these bytes and the mode that we give.
    pub(super) fn holds(&self, path: &Path, bytes: &[u8]) -> io::Result<bool> {
        let alike = match self.look(path)? {
            Stands::File { stamp, mode } => mode == FILE_MODE && stamp.bytes == bytes.len() as u64,
            Stands::Nothing | Stands::Folder | Stands::Other => false,
        };
        Ok(alike && self.read(path)? == bytes)
    }

    /// The file that has this stamp still stands there, with the mode that we give.
    pub(super) fn stands(&self, path: &Path, wanted: Stamp) -> io::Result<bool> {
        let here = self.look(path)?;
        Ok(here
            == Stands::File {
                stamp: wanted,
                mode: FILE_MODE,
            })
    }

    /// The stamp of a file that we wrote.
    pub(super) fn stamp(&self, path: &Path) -> io::Result<Stamp> {
        match self.look(path)? {
            Stands::File { stamp, .. } => Ok(stamp),
            Stands::Nothing | Stands::Folder | Stands::Other => Err(io::ErrorKind::NotFound.into()),
        }
    }

    /// Two files have the same bytes, and the second the mode that we give.
    pub(super) fn same(&self, from: &Path, path: &Path) -> io::Result<bool> {
        let (first, second) = (self.look(from)?, self.look(path)?);
        let (Stands::File { stamp: one, .. }, Stands::File { stamp: two, mode }) = (first, second) else {
            return Ok(false);
        };
        if one.bytes != two.bytes || mode != FILE_MODE {
            return Ok(false);
        }
        let mut first = self.call("open", from, || File::open(from))?;
        let mut second = self.call("open", path, || File::open(path))?;
        loop {
            let (mut one, mut two) = (Vec::new(), Vec::new());
            self.call("read", from, || {
                Read::by_ref(&mut first).take(PIECE as u64 * 16).read_to_end(&mut one)
            })?;
            self.call("read", path, || {
                Read::by_ref(&mut second).take(PIECE as u64 * 16).read_to_end(&mut two)
            })?;
            if one != two {
                return Ok(false);
            }
            if one.is_empty() {
                return Ok(true);
            }
        }
    }

    pub(super) fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.call("rename", from, || fs::rename(from, to))
    }

    /// Two folders exchange names in one step. [`io::ErrorKind::Unsupported`] where there is no such step.
    pub(super) fn exchange(&self, one: &Path, two: &Path) -> io::Result<()> {
        self.call("exchange", one, || exchange(one, two))
    }

    pub(super) fn remove_file(&self, path: &Path) -> io::Result<()> {
        self.call("remove file", path, || fs::remove_file(path))
    }

    pub(super) fn remove_folder(&self, path: &Path) -> io::Result<()> {
        self.call("remove folder", path, || fs::remove_dir(path))
    }

    /// Brings a file or a folder's names to the disk.
    pub(super) fn sync(&self, path: &Path) -> io::Result<()> {
        let file = self.call("open", path, || File::open(path))?;
        self.call("sync", path, || file.sync_all())
    }

    /// Brings everything of a file system to the disk: quicker than file by file when there are many.
    pub(super) fn sync_all(&self, path: &Path) -> io::Result<()> {
        let file = self.call("open", path, || File::open(path))?;
        self.call("sync all", path, || sync_file_system(&file))
    }

    pub(super) fn open_lock(&self, path: &Path) -> io::Result<File> {
        let mut options = OpenOptions::new();
        options.read(true).write(true).create(true).truncate(false);
        self.call("open", path, || options.open(path))
    }

    /// Takes the lock, or says [`io::ErrorKind::WouldBlock`].
    pub(super) fn lock(&self, path: &Path, file: &File) -> io::Result<()> {
        self.call("lock", path, || {
            Ok(rustix::fs::flock(file, FlockOperation::NonBlockingLockExclusive)?)
        })
    }

    /// Gives a lock back; closing the file would do so as well once nobody else holds it open.
    pub(super) fn unlock(&self, file: &File) {
        let _ = rustix::fs::flock(file, FlockOperation::Unlock);
    }

    /// The open file is still the one at this path.
    pub(super) fn is_at(&self, file: &File, path: &Path) -> io::Result<bool> {
        self.call("look", path, || {
            let here = file.metadata()?;
            Ok(fs::metadata(path).is_ok_and(|there| (here.dev(), here.ino()) == (there.dev(), there.ino())))
        })
    }
}

#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn exchange(one: &Path, two: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    use rustix::io::Errno;
    match renameat_with(CWD, one, CWD, two, RenameFlags::EXCHANGE) {
        Ok(()) => Ok(()),
        Err(Errno::NOSYS | Errno::INVAL | Errno::NOTSUP) => Err(io::ErrorKind::Unsupported.into()),
        Err(error) => Err(error.into()),
    }
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
fn exchange(_one: &Path, _two: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

#[cfg(any(target_os = "linux", target_os = "android"))]
fn sync_file_system(file: &File) -> io::Result<()> {
    Ok(rustix::fs::syncfs(file)?)
}

#[cfg(not(any(target_os = "linux", target_os = "android")))]
fn sync_file_system(file: &File) -> io::Result<()> {
    file.sync_all()
}
