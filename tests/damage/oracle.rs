/// Semitones above C of a note's name; None when it is none.
pub fn pitch_class(name: &str) -> Option<i32> {
    let mut letters = name.chars();
    let natural = match letters.next()? {
        'C' => 0,
        'D' => 2,
        'E' => 4,
        'F' => 5,
        'G' => 7,
        'A' => 9,
        'B' => 11,
        _ => return None,
    };
    let alter: i32 = letters.map(|mark| if mark == '#' { 1 } else { -1 }).sum();
    Some((natural + alter).rem_euclid(12))
}

/// The pitch class of an open string: E A D G B E from string 6 to string 1.
fn open(string: usize) -> i32 {
    [4, 11, 7, 2, 9, 4][string - 1]
}

pub fn sounds(string: usize, fret: i32) -> i32 {
    (open(string) + fret).rem_euclid(12)
}

/// Root and third are both there.
pub fn shape_fits(root: &str, minor: bool, shape: &str) -> Option<bool> {
    let root = pitch_class(root)?;
    let third = (root + if minor { 3 } else { 4 }) % 12;
    let frets = shape
        .chars()
        .enumerate()
        .filter_map(|(index, fret)| Some((6 - index, fret.to_digit(10)? as i32)));
    let classes: Vec<i32> = frets.map(|(string, fret)| sounds(string, fret)).collect();
    Some(classes.contains(&root) && classes.contains(&third))
}
