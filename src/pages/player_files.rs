//! The player's files, as a page includes them and as the site holds them.

/// The player's style sheet, by its place in the site.
pub const PLAYER_STYLE: (&str, &str) = ("assets/player.css", include_str!("../../templates/assets/player.css"));

macro_rules! script {
    ($name:literal) => {
        (
            concat!("assets/", $name),
            include_str!(concat!("../../templates/assets/", $name)),
        )
    };
}

/// The player's scripts in the order that a page includes them: place in the site, text.
pub const PLAYER_SCRIPTS: [(&str, &str); 22] = [
    script!("player-clock.js"),
    script!("player-score.js"),
    script!("player-touch.js"),
    script!("player-ladder.js"),
    script!("player-tally.js"),
    script!("player-strings.js"),
    script!("player-noises.js"),
    script!("player-sound.js"),
    script!("player-transport.js"),
    script!("player-words.js"),
    script!("player-tasks.js"),
    script!("player-store.js"),
    script!("player-state.js"),
    script!("player-view.js"),
    script!("player-session.js"),
    script!("player-controls.js"),
    script!("player-listen.js"),
    script!("player-panel.js"),
    script!("player-extras.js"),
    script!("player-sheet.js"),
    script!("player-play.js"),
    script!("player.js"),
];
