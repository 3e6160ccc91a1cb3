//! The answer in one sentence: what is out of balance with its figures, and how many rules hold.

use super::PartBalance;
use crate::formula::{BalanceFinding, BalanceVerdict, LikelyStyle, NamedBase, Tally};
use crate::quantity::behind_the;
use crate::reference::{Style, short};

/// The sentence for a judged formula, or for one of which nobody said what it is.
pub fn summary(
    style: Option<&Style>,
    base: &NamedBase,
    findings: &[BalanceFinding],
    likely: Option<&[LikelyStyle]>,
    parts: &[PartBalance],
) -> String {
    let mut text = match style {
        Some(style) => of_style(style, findings) + &fits_better(likely.unwrap_or_default()),
        None => of_likely(base, likely.unwrap_or_default()),
    };
    for part in parts {
        text.push_str(&format!("; of the {}, {}", behind_the(&part.part), Tally::of(part.findings.iter().map(|f| f.verdict)).text()));
    }
    text
}

fn of_style(style: &Style, findings: &[BalanceFinding]) -> String {
    let worst = findings.iter().find(|f| matches!(f.verdict, BalanceVerdict::Above | BalanceVerdict::Below));
    let Some(finding) = worst.or_else(|| findings.iter().find(|f| f.verdict == BalanceVerdict::Depends)) else {
        let mut text = String::with_capacity(96);
        match findings.len() {
            2 => text.extend(["Both rules for ", style.name, " hold ("]),
            many => text.extend(["All ", &*many.to_string(), " rules for ", style.name, " hold ("]),
        }
        for (at, finding) in findings.iter().take(2).enumerate() {
            text.extend([
                if at == 0 { "" } else { ", " },
                &*spoken(finding.rule),
                " ",
                &*finding.measured.text(),
                " % of ",
                &*spoken(finding.basis),
            ]);
        }
        text.push(')');
        return text;
    };
    let says = match finding.verdict {
        BalanceVerdict::Depends => ["lies within or outside", ", depending on ", finding.hinges],
        BalanceVerdict::Above => ["is above", "", ""],
        _ => ["is below", "", ""],
    };
    let (measured, bounds) = (finding.measured.text(), bounds(finding, style.name));
    let tally = Tally::of(findings.iter().map(|f| f.verdict)).text();
    let basis = spoken(finding.basis);
    let told = [" ", &measured, " % of ", &basis, " ", says[0], " the ", &bounds, says[1], says[2], "; ", &tally];
    let mut text = String::with_capacity(160);
    let mut letters = finding.rule.chars().map(|letter| if letter == '-' { ' ' } else { letter });
    text.extend(letters.next().map(|first| first.to_ascii_uppercase()));
    text.extend(letters);
    text.extend(told);
    text
}

fn bounds(finding: &BalanceFinding, style: &str) -> String {
    match (finding.low, finding.high) {
        (Some(low), Some(high)) => [&*short(low.0), "–", &*short(high.0), " % for ", style].concat(),
        (Some(low), None) => ["least for ", style, ", ", &*short(low.0), " %"].concat(),
        (None, high) => ["most for ", style, ", ", &*short(high.map_or(0.0, |high| high.0)), " %"].concat(),
    }
}

/// A name as it is spoken.
fn spoken(word: &str) -> String {
    word.replace('-', " ")
}

/// What it is rather, where another style fits better.
fn fits_better(nearer: &[LikelyStyle]) -> String {
    match nearer.first() {
        None => String::new(),
        Some(style) if style.within == style.of => format!("; as {} all {} {}", style.name, style.of, hold(style)),
        Some(style) => format!("; {} fits better: {} of {} {}", style.name, style.within, style.of, hold(style)),
    }
}

const fn hold(style: &LikelyStyle) -> &'static str {
    if style.open == 0 { "hold" } else { "hold or may hold" }
}

fn of_likely(base: &NamedBase, likely: &[LikelyStyle]) -> String {
    // The first, and beside it only what is nearly as likely.
    let beside = likely.iter().skip(1).filter(|l| l.within * 4 >= l.of * 3);
    let told = likely.iter().take(1).chain(beside).take(3).map(|l| format!("{} ({} of {} rules {})", l.name, l.within, l.of, hold(l)));
    let told: Vec<_> = told.collect();
    match told.is_empty() {
        true => format!("Percentages are of {}; no style was named and none is likely", base.spoken()),
        false => format!("No style was named; by its percentages of {} it might be {}", base.spoken(), told.join(", ")),
    }
}
