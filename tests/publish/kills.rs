//! Killed at every call of the file system, and at any moment.

use std::cell::Cell;
use std::path::Path;
use std::thread::sleep;
use std::time::Instant;

use compasario::disk::{self, Site};

use crate::child::Orders;
use crate::support::{beside, files, is_whole, large_site, new_site, no_exchange, old_site, place, values};

/// How many moments a build of the new site over the old one has: two for each call, before and after it.
fn moments(exchange: bool, first: bool) -> usize {
    let (_directory, out) = place();
    if !first {
        disk::publish(&out, old_site()).unwrap();
    }
    let count = Cell::new(0);
    let told = |call: &disk::Call<'_>| {
        count.set(count.get() + 1);
        if exchange { Ok(()) } else { no_exchange(call) }
    };
    disk::publish_told(&out, new_site(), &told).unwrap();
    count.get()
}

/// A build killed at a moment; the next one has to make the new site whatever was left.
fn killed_at(moment: usize, exchange: bool, first: bool, check: impl Fn(&Path)) {
    let (_directory, out) = place();
    if !first {
        disk::publish(&out, old_site()).unwrap();
    }
    let orders = Orders {
        out: &out,
        site: "new",
        die_at: Some(moment),
        exchange,
    };
    assert!(!orders.run().success(), "moment {moment} was never reached");
    check(&out);
    disk::publish(&out, new_site()).unwrap();
    assert!(is_whole(&out, &new_site()), "after moment {moment}");
    assert_eq!(beside(&out), Vec::<String>::new(), "after moment {moment}");
}

#[test]
fn killed_at_any_call_the_site_is_the_old_or_the_new_one() {
    let moments = moments(true, false);
    println!("{moments} moments");
    assert!(moments > 150, "{moments}");
    let new = Cell::new(0);
    for moment in 0..moments {
        killed_at(moment, true, false, |out| {
            let is_new = is_whole(out, &new_site());
            assert!(is_new || is_whole(out, &old_site()), "moment {moment}");
            new.set(new.get() + usize::from(is_new));
        });
    }
    assert!(new.get() > 0 && new.get() < moments, "both sites were seen");
}

#[test]
fn killed_at_any_call_a_first_site_is_there_whole_or_not_at_all() {
    for moment in 0..moments(true, true) {
        killed_at(moment, true, true, |out| {
            assert!(!out.exists() || is_whole(out, &new_site()), "moment {moment}");
        });
    }
}

/// Where folders cannot be exchanged there is one moment without a site: the old one stands beside, whole, and is put back.
#[test]
fn killed_between_two_renames_the_old_site_is_put_back() {
    let missing = Cell::new(0);
    for moment in 0..moments(false, false) {
        killed_at(moment, false, false, |out| {
            if out.exists() {
                assert!(
                    is_whole(out, &new_site()) || is_whole(out, &old_site()),
                    "moment {moment}"
                );
                return;
            }
            missing.set(missing.get() + 1);
            assert!(
                is_whole(&out.with_file_name(".site.compasario-old"), &old_site()),
                "moment {moment}"
            );
            // Even a build that comes to nothing puts it back.
            let full = |call: &disk::Call<'_>| match call.name {
                "write" => Err(std::io::ErrorKind::StorageFull.into()),
                _ => Ok(()),
            };
            assert!(disk::publish_told(out, new_site(), &full).is_err());
            assert!(is_whole(out, &old_site()), "moment {moment}");
        });
    }
    assert_eq!(missing.get(), 2, "after the first rename, before the second");
}

/// A call that fails instead of a kill: the build says so and leaves the old site, or has put the new one in place.
#[test]
fn failing_at_any_call_the_site_is_the_old_or_the_new_one() {
    for moment in 0..moments(true, false) {
        let (_directory, out) = place();
        disk::publish(&out, old_site()).unwrap();
        let count = Cell::new(0);
        let told = |_: &disk::Call<'_>| {
            count.set(count.get() + 1);
            if count.get() == moment + 1 {
                return Err(std::io::ErrorKind::StorageFull.into());
            }
            Ok(())
        };
        let published = disk::publish_told(&out, new_site(), &told);
        let (old, new) = (is_whole(&out, &old_site()), is_whole(&out, &new_site()));
        assert!(old || new, "moment {moment}");
        assert!(published.is_err() || new, "moment {moment}");
        disk::publish(&out, new_site()).unwrap();
        assert_eq!(beside(&out), Vec::<String>::new(), "moment {moment}");
    }
}

/// Numbers that look random and are the same each time (splitmix64, Steele, Lea and Flood 2014; constants from memory).
fn scattered(seed: u64) -> u64 {
    let mut state = seed.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    state = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    state = (state ^ (state >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    state ^ (state >> 31)
}

#[test]
fn killed_at_fifty_random_moments_the_site_is_the_old_or_the_new_one() {
    let (_directory, out) = place();
    let sites: [(&str, Site); 2] = [("one", large_site("one", 300)), ("two", large_site("two", 300))];
    let orders = |site| Orders {
        out: &out,
        site,
        die_at: None,
        exchange: true,
    };
    assert!(orders("one").run().success());
    let begin = Instant::now();
    assert!(orders("two").run().success());
    let whole = begin.elapsed();
    let (mut killed, mut both, mut up, mut round) = (0, [0, 0], 1, 0);
    // Some end before they are killed: they count for nothing.
    while killed < 50 {
        round += 1;
        assert!(round < 500, "only {killed} could be killed");
        let mut child = orders(sites[1 - up].0).start();
        sleep(whole.mul_f64((scattered(round) % 1000) as f64 / 900.0));
        child.kill().unwrap();
        killed += usize::from(!child.wait().unwrap().success());
        let now = files(&out).unwrap();
        let is = sites.iter().position(|(_, site)| values(site) == now);
        up = is.unwrap_or_else(|| panic!("round {round}: neither site"));
        both[up] += 1;
    }
    println!("{killed} of {round} were killed before their end; the sites seen: {both:?}; a build took {whole:?}");
    assert!(both.iter().all(|seen| *seen > 0), "{both:?}");
    disk::publish(&out, new_site()).unwrap();
    assert!(is_whole(&out, &new_site()));
    assert_eq!(beside(&out), Vec::<String>::new());
}

#[test]
fn of_two_builds_at_once_one_is_refused_or_waits_its_turn() {
    let (_directory, out) = place();
    for _ in 0..10 {
        let orders = |site| Orders {
            out: &out,
            site,
            die_at: None,
            exchange: true,
        };
        let (mut one, mut two) = (orders("one").start(), orders("two").start());
        let ends = [one.wait().unwrap().success(), two.wait().unwrap().success()];
        assert!(ends[0] || ends[1], "both were refused");
        let whole = [
            is_whole(&out, &large_site("one", 300)),
            is_whole(&out, &large_site("two", 300)),
        ];
        assert!(
            whole.iter().zip(ends).any(|(whole, ended)| *whole && ended),
            "{whole:?} {ends:?}"
        );
        assert_eq!(beside(&out), Vec::<String>::new());
    }
}
