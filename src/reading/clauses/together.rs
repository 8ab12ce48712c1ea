use super::super::statement::Told;
use super::super::tokens::Token;
use super::Reader;

impl Reader<'_> {
    /// "The index goes down and the ring finger plays a golpe at the same time on 4": a stroke and a golpe told one by one are
    /// at one moment, wherever it is told.
    pub(super) fn golpe_at_the_same_time(&mut self) {
        let said: Vec<usize> = self
            .tokens
            .iter()
            .filter(|token| is_together(token))
            .map(|token| token.start)
            .collect();
        let strokes = |told: &Told| (!told.actions.is_empty() || told.has_note()) && !told.golpe && !told.negated;
        let golpe = |told: &Told| told.actions.is_empty() && told.golpe && !told.negated;
        for at in 1..self.out.len() {
            let Some([first, next]) = self.out.get_mut(at - 1..=at) else {
                continue;
            };
            let one_moment = said.iter().any(|said| (first.end..=next.end).contains(said));
            if one_moment && strokes(first) && golpe(next) && (first.when.is_none() || next.when.is_none()) {
                first.when = first.when.or(next.when);
                next.when = first.when;
            }
        }
    }
}

pub(super) fn is_together(token: &Token) -> bool {
    matches!(
        token.word.as_str(),
        "together" | "at once" | "at the same time" | "a la vez" | "juntos" | "al mismo tiempo"
    )
}
