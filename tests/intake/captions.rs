//! WebVTT and SRT.

use crate::support::check;

/// W3C WebVTT, "WebVTT parser algorithm": what a player shows, a lesson has.
#[test]
fn captions_are_read_as_the_standard_says() {
    let text = "\u{feff}WEBVTT - a title\nKind: captions\n\nNOTE a remark\nover two lines\n\nSTYLE\n::cue { color: red }\n\nREGION\nid:fred\n\n\
                intro\n00:01.000 --> 00:02.500 align:start position:0%\nfirst line\nsecond line\n\n\
                100:00:03.000-->100:00:04.000\nhours, no spaces\n\n\
                00:05.000 --> 00:06.000\n00:07.000 --> 00:08.000\nan arrow ends the cue before it\n";
    check(
        "a.vtt",
        text,
        &[
            "0:01 first line second line",
            "100:00:03 hours, no spaces",
            "0:07 an arrow ends the cue before it",
        ],
        &[],
    );
}

#[test]
fn tags_entities_voices_and_word_times() {
    let cue = |payload: &str| format!("WEBVTT\n\n00:01.000 --> 00:02.000\n{payload}\n");
    check(
        "a.vtt",
        &cue("<i>one</i> <c.loud>two</c> &amp; &lt;three&gt; &ntilde;&#241;&#xF1; &bogus;"),
        &["0:01 one two & <three> ñññ &bogus;"],
        &[],
    );
    check(
        "a.vtt",
        &cue("<v Teacher Ana>hello</v>"),
        &["0:01 <Teacher Ana> hello"],
        &[],
    );
    check(
        "a.vtt",
        &cue("<v.loud A &amp; B>one <v C>two</v> three"),
        &["0:01 <A & B> one", "0:01 <C> two", "0:01 three"],
        &[],
    );
    check(
        "a.vtt",
        &cue("play <00:01.500>two <00:01.700>three"),
        &["0:01 play two three"],
        &[],
    );
    check("a.vtt", &cue("a < b and no end"), &["0:01 a < b and no end"], &[]);
    check("a.vtt", &cue("Teacher: one\n  two"), &["0:01 <Teacher> one two"], &[]);
    check("a.vtt", &cue("so\u{301}lo <b>e</b>"), &["0:01 sólo e"], &[]);
}

#[test]
fn moments_of_words_stand_where_the_words_begin() {
    let text = "WEBVTT\n\n00:01.000 --> 00:02.000\nplay <00:01.500>two <00:01.700>three\n";
    let (_directory, folder) = crate::support::folder(&[("a.vtt", text)]);
    let cue = &folder.notes[0].cues[0];
    let times: Vec<_> = cue
        .word_times
        .iter()
        .map(|(at, time)| (&cue.text[*at..], time.milliseconds))
        .collect();
    assert_eq!(times, [("two three", 1500), ("three", 1700)]);
    assert_eq!(cue.until.map(|time| time.milliseconds), Some(2000));
    assert_eq!(cue.time_at(6).map(|time| time.milliseconds), Some(1500));
}

#[test]
fn what_players_drop_in_silence_is_found() {
    let cue = |timing: &str| format!("WEBVTT\n\n{timing}\nlost\n\n00:09.000 --> 00:10.000\nkept\n");
    for timing in [
        "00:01,000 --> 00:02,000",
        "0:01.000 --> 0:02.000",
        "00:01.00 --> 00:02.000",
        "00:61.000 --> 01:02.000",
        "00:01.000 -> 00:02.000 --> x",
        "--> 00:02.000",
    ] {
        check("a.vtt", &cue(timing), &["0:09 kept"], &["caption-time-not-read"]);
    }
    check(
        "a.vtt",
        "WEBVTT\n\n00:01.000 --> 00:02.000\none\n\nlost words\n",
        &["0:01 one"],
        &["caption-without-time"],
    );
    check(
        "a.vtt",
        "00:01.000 --> 00:02.000\none\n",
        &["0:01 one"],
        &["captions-without-webvtt"],
    );
    check(
        "a.vtt",
        "WEBVTT\n\n00:01.000 --> 00:02.000\n\n00:02.000 --> 00:03.000\none",
        &["0:02 one"],
        &[],
    );
}

#[test]
fn a_head_may_stand_in_a_note_block() {
    let text = "WEBVTT\n\nNOTE\ntitle: Tangos\ncejilla: 2\n\n00:01.000 --> 00:02.000\none\n";
    let (_directory, folder) = crate::support::folder(&[("a.vtt", text)]);
    let note = &folder.notes[0];
    assert_eq!(
        (note.head_value("title"), note.head_value("capo")),
        (Some("Tangos"), Some("2"))
    );
    assert_eq!(note.head[1].place.line, 5);
}

#[test]
fn captions_that_roll_are_told_once() {
    let text = "WEBVTT\n\n00:00.000 --> 00:02.000\n \nhello<00:00.500><c> everyone</c>\n\n00:02.000 --> 00:02.010\nhello everyone\n \n\n\
                00:02.010 --> 00:04.000\nhello everyone\nso<00:03.000><c> today</c>\n\n00:04.000 --> 00:04.010\nso today\n \n\n\
                00:04.010 --> 00:06.000\nso today\ntangos\n";
    check(
        "a.vtt",
        text,
        &["0:00 hello everyone", "0:02 so today", "0:04 tangos"],
        &[],
    );
    let counting = "WEBVTT\n\n00:00.000 --> 00:02.000\n1 2 3 4\n\n00:02.000 --> 00:04.000\n1 2 3 4\n\n00:04.000 --> 00:06.000\nagain\n\n\
                    00:06.000 --> 00:07.000\nand stop\n";
    check(
        "a.vtt",
        counting,
        &["0:00 1 2 3 4", "0:02 1 2 3 4", "0:04 again", "0:06 and stop"],
        &[],
    );
}

#[test]
fn srt_blocks() {
    let text = "1\r\n00:00:01,000 --> 00:00:02,500\r\n<i>uno</i> {\\an8}dos\r\n3 veces\r\n\r\n2\r\n00:00:03,000 --> 00:00:04,000 X1:0\r\n\r\ntarde\r\n\r\n\
                3\r\n00:00:05 --> what\r\nperdido\r\n\r\n4\r\n00:01:05.5 --> 00:01:06.500\r\n12\r\n";
    check(
        "a.srt",
        text,
        &["0:01 uno dos 3 veces", "0:03 tarde", "1:05 12"],
        &["caption-time-not-read"],
    );
    check(
        "a.srt",
        "words\n\n1\n00:00:01,000 --> 00:00:02,000\none",
        &["0:01 one"],
        &["caption-without-time"],
    );
    check(
        "a.srt",
        "title: A\n\n1\n00:00:01,000 --> 00:00:02,000\n5 < 6 > 4 &amp; <b>so</b>",
        &["0:01 5 < 6 > 4 & so"],
        &[],
    );
}
