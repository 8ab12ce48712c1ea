//! What a build leaves when nothing goes wrong.

use std::fs;
use std::path::Path;

use compasario::disk::{self, CopiedFile, How, Site};

use crate::support::{beside, files, inode, is_whole, new_site, old_site, place, site};

#[test]
fn a_first_site_is_made_with_the_folders_above_it() {
    let (directory, _) = place();
    let out = directory.path().join("a/b/site");
    let published = disk::publish(&out, old_site()).unwrap();
    assert_eq!((published.how, published.written, published.kept), (How::First, 6, 0));
    assert!(is_whole(&out, &old_site()));
    assert_eq!(beside(&out), Vec::<String>::new());
}

#[test]
fn an_empty_folder_may_be_used() {
    let (_directory, out) = place();
    fs::create_dir(&out).unwrap();
    fs::write(out.join(".DS_Store"), "litter").unwrap();
    disk::publish(&out, old_site()).unwrap();
    assert!(is_whole(&out, &old_site()));
    assert_eq!(beside(&out), Vec::<String>::new());
}

#[test]
fn a_new_site_leaves_nothing_of_the_old_one() {
    let (_directory, out) = place();
    disk::publish(&out, old_site()).unwrap();
    let same = inode(&out.join("assets/site.css"));
    let published = disk::publish(&out, new_site()).unwrap();
    assert_eq!(
        (published.how, published.written, published.kept, published.gone),
        (How::Exchanged, 3, 2, 2)
    );
    assert!(is_whole(&out, &new_site()));
    assert_eq!(
        inode(&out.join("assets/site.css")),
        same,
        "a file that is the same is the same file"
    );
    assert!(!out.join("lessons/gone").exists());
    assert_eq!(beside(&out), Vec::<String>::new());
}

#[test]
fn the_same_site_is_not_touched() {
    let (_directory, out) = place();
    disk::publish(&out, old_site()).unwrap();
    let before = inode(&out);
    let published = disk::publish(&out, old_site()).unwrap();
    assert_eq!((published.how, published.kept), (How::Untouched, 6));
    assert_eq!(inode(&out), before);
}

#[test]
fn a_page_changed_by_hand_is_put_right() {
    let (_directory, out) = place();
    disk::publish(&out, old_site()).unwrap();
    fs::write(out.join("index.html"), "OLD HOME").unwrap();
    fs::remove_file(out.join("assets/site.css")).unwrap();
    let published = disk::publish(&out, old_site()).unwrap();
    assert_eq!((published.written, published.kept), (2, 4));
    assert!(is_whole(&out, &old_site()));
}

#[test]
fn modes_do_not_depend_on_the_shell() {
    let (_directory, out) = place();
    disk::publish(&out, old_site()).unwrap();
    let page = out.join("index.html");
    let private = std::os::unix::fs::PermissionsExt::from_mode(0o600);
    fs::set_permissions(&page, private).unwrap();
    disk::publish(&out, old_site()).unwrap();
    assert!(is_whole(&out, &old_site()));
}

#[test]
fn recordings_are_copied_once() {
    let (directory, out) = place();
    let recording = directory.path().join("take.ogg");
    let bytes: Vec<u8> = (0..3_000_000u32).map(|number| (number % 251) as u8).collect();
    fs::write(&recording, &bytes).unwrap();
    let with_recording = |files: Site| Site {
        copies: vec![CopiedFile {
            path: "sound/take.ogg".to_owned(),
            from: recording.clone(),
        }],
        ..files
    };
    disk::publish(&out, with_recording(old_site())).unwrap();
    let copied = out.join("sound/take.ogg");
    assert_eq!(fs::read(&copied).unwrap(), bytes);
    let first = inode(&copied);
    disk::publish(&out, with_recording(new_site())).unwrap();
    assert_eq!(inode(&copied), first);
    fs::write(&recording, &bytes[1..]).unwrap();
    disk::publish(&out, with_recording(new_site())).unwrap();
    assert_eq!(fs::read(&copied).unwrap(), &bytes[1..]);
}

#[test]
fn a_link_to_a_folder_is_followed_and_stays() {
    let (directory, _) = place();
    let real = directory.path().join("real");
    fs::create_dir(&real).unwrap();
    let link = directory.path().join("link");
    std::os::unix::fs::symlink("real", &link).unwrap();
    disk::publish(&link, old_site()).unwrap();
    disk::publish(&link, new_site()).unwrap();
    assert!(is_whole(&real, &new_site()));
    assert_eq!(fs::read_link(&link).unwrap(), Path::new("real"));
}

#[test]
fn an_empty_site_is_a_site() {
    let (_directory, out) = place();
    disk::publish(&out, old_site()).unwrap();
    disk::publish(&out, site(&[])).unwrap();
    assert_eq!(files(&out).unwrap().len(), 0);
    disk::publish(&out, old_site()).unwrap();
    assert!(is_whole(&out, &old_site()));
}

/// Rooms of the file system without an exchange: the same end by two renames.
#[test]
fn where_folders_cannot_be_exchanged_two_renames_do() {
    let (_directory, out) = place();
    disk::publish(&out, old_site()).unwrap();
    let published = disk::publish_told(&out, new_site(), &crate::support::no_exchange).unwrap();
    assert_eq!(published.how, How::Renamed);
    assert!(is_whole(&out, &new_site()));
    assert_eq!(beside(&out), Vec::<String>::new());
}

#[test]
fn where_files_cannot_be_linked_they_are_written() {
    let (_directory, out) = place();
    disk::publish(&out, old_site()).unwrap();
    let no_link = |call: &disk::Call<'_>| match call.name {
        "link" => Err(std::io::ErrorKind::Unsupported.into()),
        _ => Ok(()),
    };
    let published = disk::publish_told(&out, new_site(), &no_link).unwrap();
    assert_eq!((published.written, published.kept), (5, 0));
    assert!(is_whole(&out, &new_site()));
}

/// A file that is kept by its stamp is not read; one that is not what it was is never published as if it were.
#[test]
fn files_can_be_kept_by_their_stamps() {
    let (_directory, out) = place();
    let with_stamps = |site: Site| Site { stamps: true, ..site };
    let first = disk::publish(&out, with_stamps(old_site())).unwrap();
    assert_eq!(first.stamps.len(), 6);
    let keeping = |stamps: &std::collections::BTreeMap<String, disk::Stamp>| {
        let mut site = with_stamps(new_site());
        let same = ["assets/site.css", "lessons/tangos/index.html"];
        site.files.retain(|file| !same.contains(&file.path.as_str()));
        site.kept = same
            .iter()
            .map(|path| disk::KeptFile {
                path: (*path).to_owned(),
                stamp: stamps[*path],
            })
            .collect();
        site
    };
    let second = disk::publish(&out, keeping(&first.stamps)).unwrap();
    assert_eq!((second.written, second.kept, second.gone), (3, 2, 2));
    assert!(is_whole(&out, &new_site()));
    assert_eq!(second.stamps["assets/site.css"], first.stamps["assets/site.css"]);
    assert_eq!(
        disk::publish(&out, keeping(&second.stamps)).unwrap().how,
        How::Untouched
    );
    fs::write(out.join("assets/site.css"), "SAME STYLE").unwrap();
    assert!(!disk::stands(&out, "assets/site.css", second.stamps["assets/site.css"]));
    let message = disk::publish(&out, keeping(&second.stamps)).unwrap_err().to_string();
    assert!(
        message.contains("assets/site.css was changed while the site was being built"),
        "{message}"
    );
    assert_eq!(beside(&out), Vec::<String>::new());
}
