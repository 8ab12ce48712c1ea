//! What is not ours is not touched.

use std::fs;
use std::path::Path;

use compasario::disk::{self, Site};

use crate::support::{beside, files, is_whole, new_site, old_site, place, site};

fn refused(out: &Path, site: Site, words: &str) {
    let message = disk::publish(out, site).unwrap_err().to_string();
    assert!(message.contains(words), "{message}");
}

#[test]
fn a_folder_that_no_build_made_is_refused() {
    let (_directory, out) = place();
    fs::create_dir_all(out.join("letters")).unwrap();
    fs::write(out.join("letters/one.txt"), "dear").unwrap();
    refused(
        &out,
        old_site(),
        "was not made by a build and is not empty (letters/one.txt)",
    );
    assert_eq!(files(&out).unwrap().len(), 1);
    assert_eq!(beside(&out), Vec::<String>::new());
}

#[test]
fn something_put_into_the_site_is_not_removed() {
    let (_directory, out) = place();
    disk::publish(&out, old_site()).unwrap();
    fs::create_dir(out.join(".git")).unwrap();
    fs::write(out.join(".git/config"), "mine").unwrap();
    std::os::unix::fs::symlink("/", out.join("root")).unwrap();
    refused(
        &out,
        new_site(),
        "something in this site that no build wrote (.git/config, root)",
    );
    assert_eq!(fs::read_to_string(out.join(".git/config")).unwrap(), "mine");
    assert_eq!(fs::read_to_string(out.join("index.html")).unwrap(), "old home");
}

#[test]
fn a_file_and_the_root_are_refused() {
    let (_directory, out) = place();
    fs::write(&out, "a file").unwrap();
    refused(&out, old_site(), "this is a file");
    refused(Path::new("/"), old_site(), "the whole file system");
    refused(&out.join("below/site"), old_site(), "");
    assert_eq!(fs::read_to_string(&out).unwrap(), "a file");
}

#[test]
fn neighbours_that_are_not_ours_are_not_removed() {
    let (directory, out) = place();
    let neighbour = directory.path().join(".site.compasario-new");
    fs::create_dir(&neighbour).unwrap();
    fs::write(neighbour.join("diary.txt"), "mine").unwrap();
    refused(&out, old_site(), "no build put it there");
    assert_eq!(fs::read_to_string(neighbour.join("diary.txt")).unwrap(), "mine");
}

#[test]
fn the_site_and_the_notes_keep_apart() {
    let (directory, out) = place();
    let notes = directory.path().join("notes");
    fs::create_dir(&notes).unwrap();
    let with_notes = |notes: &Path| Site {
        notes: Some(notes.to_path_buf()),
        ..old_site()
    };
    refused(
        &notes.join("public/site"),
        with_notes(&notes),
        "lies in the notes folder",
    );
    refused(&notes, with_notes(&notes), "lies in the notes folder");
    assert!(!notes.join("public").exists());
    refused(directory.path(), with_notes(&notes), "holds the notes folder");
    disk::publish(&out, with_notes(&notes)).unwrap();
}

#[test]
fn names_that_leave_the_site_are_refused_before_anything_is_touched() {
    let (directory, out) = place();
    for name in ["../outside.html", "/etc/outside", "a/../../outside.html"] {
        refused(&out, site(&[(name, "x")]), "cannot be published");
    }
    assert!(!out.exists() && beside(&out).is_empty());
    assert!(!directory.path().join("outside.html").exists());
}

#[test]
fn a_link_inside_the_site_is_never_followed() {
    let (directory, out) = place();
    disk::publish(&out, old_site()).unwrap();
    let outside = directory.path().join("outside");
    fs::create_dir(&outside).unwrap();
    fs::write(outside.join("index.html"), "mine").unwrap();
    fs::remove_dir_all(out.join("lessons/gone")).unwrap();
    std::os::unix::fs::symlink(&outside, out.join("lessons/gone")).unwrap();
    refused(&out, new_site(), "no build wrote (lessons/gone)");
    assert_eq!(fs::read_to_string(outside.join("index.html")).unwrap(), "mine");
}

#[test]
fn a_second_build_is_refused_while_one_is_at_work() {
    let (_directory, out) = place();
    let second = std::cell::RefCell::new(None);
    let told = |call: &disk::Call<'_>| {
        if call.name == "make folder" && second.borrow().is_none() {
            let message = disk::publish(&out, new_site()).map_err(|failure| failure.to_string());
            *second.borrow_mut() = Some(message);
        }
        Ok(())
    };
    disk::publish_told(&out, old_site(), &told).unwrap();
    let message = second.into_inner().unwrap().unwrap_err();
    assert!(message.contains("another build is writing this site"), "{message}");
    assert!(is_whole(&out, &old_site()));
    disk::publish(&out, new_site()).unwrap();
}
