//! The mixer parts the work into equal batches: by the weight it takes, or by the bowl and the whipped volume of what is mixed.

use serde::Deserialize;
use utoipa::ToSchema;

use crate::formula::Mixture;
use crate::pan::batter_volume;
use crate::quantity::{Code, Factor, Fault, Faults, Mass, Measures, Pointer, Span, Volume, Written, read_amount, read_mass};
use crate::reference::{Account, short};

/// A mixer: exactly one of `bowl` and `weight`.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MixerWritten {
    /// What the bowl holds to the brim, as a volume. The style's whipped volume fills six tenths of it at most where it is a dough, three quarters else.
    #[schema(nullable = false)]
    pub bowl: Option<Written>,
    /// The most that it mixes at once, as a mass.
    #[schema(nullable = false)]
    pub weight: Option<Written>,
    /// The least that it mixes well, as a mass.
    #[schema(nullable = false)]
    pub least: Option<Written>,
}

/// How much of a bowl is used: more climbs the hook or is thrown out. Common practice, no source; makers' charts differ by the stiffness of the dough.
const OF_DOUGH: f64 = 0.6;
const OF_BATTER: f64 = 0.75;

/// A mixer, understood.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mixer {
    most: Most,
    least: Option<Mass>,
}

#[derive(Clone, Copy, Debug)]
enum Most {
    Bowl(Volume),
    Weight(Mass),
}

pub(super) fn understood(written: &MixerWritten, measures: Measures, at: &Pointer<'_>, faults: &mut Faults) -> Option<Mixer> {
    let least = written.least.as_ref().map(|least| faults.keep(read_mass(least, measures, &at.key("least"))));
    let most = match (&written.bowl, &written.weight) {
        (Some(bowl), None) => volume(bowl, measures, &at.key("bowl"), faults).map(Most::Bowl),
        (None, Some(weight)) => faults.keep(read_mass(weight, measures, &at.key("weight"))).map(Most::Weight),
        _ => {
            let found = if written.bowl.is_some() { "both" } else { "neither" };
            faults.push(Fault::new(at, Code::ExactlyOne, found, "bowl or weight"));
            None
        }
    };
    Some(Mixer { most: most?, least: least.flatten() })
}

fn volume(written: &Written, measures: Measures, at: &Pointer<'_>, faults: &mut Faults) -> Option<Volume> {
    let amount = faults.keep(read_amount(written, measures, at).map_err(|fault| fault.offering(&["7 l", "20 quarts"])))?;
    let volume = amount.volume().filter(|volume| *volume > Volume::ZERO);
    if volume.is_none() {
        let found = written.as_text().into_owned();
        faults.push(Fault::new(at, Code::WrongUnit, found, "a volume above 0, such as \"7 l\" or \"20 quarts\""));
    }
    volume
}

impl Mixer {
    /// Into how many equal batches a mixture of this mass is parted.
    pub(super) fn batches(&self, mixture: Mixture<'_>, mass: Mass, account: &mut Account) -> Result<u64, Fault> {
        let root = Pointer::ROOT;
        let mixer_at = root.key("mixer");
        let exact = match self.most {
            Most::Weight(most) => mass / most,
            Most::Bowl(bowl) => {
                let gravity = gravity(mixture).ok_or_else(|| {
                    Fault::new(
                        &mixer_at.key("bowl"),
                        Code::MissingFigure,
                        &*mixture.part().name,
                        "a mixer by weight, or a specific_gravity on the part",
                    )
                    .saying("How much of the bowl it takes is not known: give the most that the mixer takes as a weight")
                })?;
                let volume = batter_volume(Span::exact(mass), Span::exact(gravity)).value();
                account.step(|| {
                    format!(
                        "{}: {} g at specific gravity {} fill {} ml",
                        mixture.part().name,
                        short(mass.in_grams()),
                        short(gravity.value()),
                        short(volume.in_millilitres())
                    )
                });
                let share = if gravity >= Factor::ONE { OF_DOUGH } else { OF_BATTER };
                let used = bowl * Factor::times(share);
                let text = format!("{} fills {:.0} % of the bowl at most: common practice", mixture.part().name, share * 100.0);
                account.assume(text, &mixer_at.key("weight"), crate::quantity::Quantity::from(used).text.to_string());
                volume / used
            }
        };
        let count = exact.rounded_up().max(1);
        if count > 1_000_000_000 {
            return Err(Fault::new(&mixer_at, Code::OutOfRange, format!("{count} batches"), "at most 1000000000 batches"));
        }
        let each = mass / Factor::times(count as f64);
        if let Some(least) = self.least.filter(|least| each < *least) {
            let text = format!(
                "A batch of {} is less ({:.0} g) than the mixer mixes well ({:.0} g)",
                mixture.part().name,
                each.in_grams(),
                least.in_grams()
            );
            account.assume(text, &mixer_at.key("least"), format!("{:.0} g", each.in_grams()));
        }
        Ok(count)
    }
}

/// The specific gravity of a mixture: as measured, else the style's.
fn gravity(mixture: Mixture<'_>) -> Option<Factor> {
    mixture.part().gravity.or_else(|| mixture.style()?.gravity.as_ref().map(|gravity| gravity.figure.value()))
}
