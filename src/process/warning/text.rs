//! What deserves a look, in words.

use super::Warning;
use crate::diagnostic::Severity;
use crate::process::container::Container;
use crate::process::side::Side;
use crate::quantity::{CarbonDioxide, Volume, in_kilowatts, in_litres, litres};
use crate::science::inhibition::Outlook;
use crate::speech::{Speaks, Style, alcohol, capital, percent, shortest};

impl Speaks for Warning {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Warning
    }

    fn text(&self, style: Style) -> String {
        match self {
            Self::YieldHigh { reached } => format!(
                "The original weights and gravity imply a brewhouse yield of {}, higher than usual.",
                percent(*reached, 1)
            ),
            Self::YieldsDisagree { stated, inferred } => format!(
                "Stated yield {}, but weights and gravity imply {}, which is used.",
                percent(*stated, 1),
                percent(*inferred, 1)
            ),
            Self::BitternessDisagrees { printed, predicted } => format!(
                "Hop additions calculate to {:.0} IBU in the beer, original sheet {:.0}: the additions are used.",
                predicted.ibu(),
                printed.ibu()
            ),
            Self::AlcoholDisagrees { printed, predicted } => format!(
                "Original sheet: alcohol {}, but its gravities give {}, which is used.",
                alcohol(*printed),
                alcohol(*predicted)
            ),
            Self::OriginalDisagrees { printed, predicted } => format!(
                "Original sheet: original gravity {}, but the weights give {}, which is used.",
                style.gravity(*printed),
                style.gravity(*predicted)
            ),
            Self::WortFinalDisagrees { printed, predicted } => format!(
                "Original sheet: final gravity of the wort {}, but that of the beer implies {}, which is used.",
                style.gravity(*printed),
                style.gravity(*predicted)
            ),
            Self::WortAlcoholDisagrees { printed, predicted } => format!(
                "Original sheet: alcohol of the wort {}, but the other figures give {}, which is used.",
                alcohol(*printed),
                alcohol(*predicted)
            ),
            Self::WortBitternessDisagrees { printed, predicted } => format!(
                "Hop additions calculate to {:.0} IBU in the wort, original sheet {:.0}: the additions are used.",
                predicted.ibu(),
                printed.ibu()
            ),
            Self::FinalBeyondEstimate {
                printed,
                lowest,
                highest,
            } => format!(
                "Original sheet: final gravity {}, but grist, rests and yeast give {} to {}; the original sheet is followed.",
                style.gravity(*printed),
                style.gravity(*lowest),
                style.gravity(*highest)
            ),
            Self::AttenuationDisagrees { stated, predicted } => format!(
                "Attenuation {} given, but the original sheet's final gravity or alcohol implies {} on a malt wort, which is used.",
                percent(*stated, 1),
                percent(*predicted, 1)
            ),
            Self::SpargeDisagrees { printed, predicted } => format!(
                "Original sheet: sparge {}, but mash water, absorption and batch leave {}, which is used.",
                style.volume(*printed),
                style.volume(*predicted)
            ),
            Self::FinalNotExplained { printed, nearest } => format!(
                "This grist cannot finish at the original sheet's {}; nearest possible {}.",
                style.gravity(*printed),
                style.gravity(*nearest)
            ),
            Self::ColourNotExplained {
                printed,
                malt,
                with_juice,
            } => {
                let juice = with_juice
                    .map(|c| format!(" (estimate with juice {})", style.beer_colour(c)))
                    .unwrap_or_default();
                format!(
                    "Original sheet: colour {}, calculated from the grist {}{juice}; nothing adjusted.",
                    style.beer_colour(*printed),
                    style.beer_colour(*malt)
                )
            }
            Self::GravityNotMet {
                name,
                wanted,
                met,
                side,
            } => {
                let place = place(*side);
                if met.plato() < wanted.plato() {
                    format!(
                        "{name} is due at {}, but the wort starts at {} {place}.",
                        style.gravity(*wanted),
                        style.gravity(*met)
                    )
                } else {
                    format!(
                        "{name} is due at {}, but fermentation stops at {} {place}; added then.",
                        style.gravity(*wanted),
                        style.gravity(*met)
                    )
                }
            }
            Self::StandClamped {
                wanted,
                boiling,
                side,
            } => format!(
                "Hot stand at {} is above the boiling point {}; {} used.",
                style.temperature(*wanted),
                place(*side),
                style.temperature(*boiling)
            ),
            Self::NeverCools { coolant, to, side } => format!(
                "Cooling water at {} cannot bring the wort to {} {}: use colder water or pitch warmer.",
                style.temperature(*coolant),
                style.temperature(*to),
                place(*side)
            ),
            Self::HeaterWeak {
                hourly,
                most,
                needed,
                side,
            } => format!(
                "{} heater boils off {} per hour at the most, not {}, which takes {} kW: check evaporation and power.",
                owner(*side),
                style.volume(*most),
                style.volume(*hourly),
                shortest(in_kilowatts(*needed), 1)
            ),
            Self::HardBoil { hourly, side } => format!(
                "{} evaporation of {} per hour is very high: check the figure, or turn the burner down.",
                owner(*side),
                percent(*hourly, 0)
            ),
            Self::SpargeWaterPh { ph, limit } => format!(
                "Sparge water of pH {:.1} draws tannin: acidify it to pH {:.1} or below.",
                ph.value(),
                limit.value()
            ),
            Self::SpargeHot { at, limit } => format!(
                "Sparge water of {} draws tannin and starch from the grain: keep it below {}.",
                style.temperature(*at),
                style.temperature(*limit)
            ),
            Self::HighHopping {
                alpha,
                dissolves,
                of_undissolved,
                side,
            } => format!(
                "{:.0} mg/L of alpha acids added hot {}, but wort dissolves about {:.0}: expect up to {:.0} IBU less in the wort.",
                alpha.milligrams_per_litre(),
                place(*side),
                dissolves.milligrams_per_litre(),
                of_undissolved.ibu()
            ),
            Self::KettleNearlyFull {
                filled,
                capacity,
                hold_back,
            } => format!(
                "Kettle {:.0} % full before the boil ({} of {}): it may boil over. Keep {} of the wort aside and add it as the boil goes down, or brew less.",
                part_pct(*filled, *capacity),
                style.volume(*filled),
                style.volume(*capacity),
                style.volume(*hold_back)
            ),
            Self::MashNearlyFull {
                filled,
                capacity,
                hold_back,
            } => format!(
                "Mash vessel {:.0} % full ({} of {}): no room to stir. Mash in with {} less water and add that when the grain is drained, or brew less.",
                part_pct(*filled, *capacity),
                style.volume(*filled),
                style.volume(*capacity),
                style.volume(*hold_back)
            ),
            Self::MashPhUnusual {
                predicted,
                lowest,
                highest,
                by,
            } => {
                let add = by.as_ref().map_or_else(String::new, |by| {
                    let amount = by
                        .volume
                        .map_or_else(|| style.mass(by.mass), |volume| style.volume(volume));
                    format!(" For pH {:.1} add {amount} of {}.", by.to.value(), by.name)
                });
                format!(
                    "Mash pH predicted {:.2}, usual {:.1} to {:.1}.{add}",
                    predicted.value(),
                    lowest.value(),
                    highest.value()
                )
            }
            Self::FermenterSmall {
                largest_batch,
                needed,
                capacity,
                ..
            } => {
                // In units that it was not rounded in it still fits.
                let less = largest_batch.map_or_else(String::new, |batch| {
                    let batch = litres(style.volume_down_l(in_litres(batch)));
                    format!("; or brew {}", style.volume(batch))
                });
                format!(
                    "Fermenter too small: {}, needed {} with 25 % for foam{less}.",
                    style.volume(*capacity),
                    style.volume(*needed)
                )
            }
            Self::KettleSmall { needed, capacity } => format!(
                "Kettle too small: it holds {}, and {} are needed hot. Hold the rest back and add it as the boil goes down.",
                style.volume(*capacity),
                style.volume(*needed)
            ),
            Self::NoRoomForWater { needed, capacity } => format!(
                "All of the water needs {}, the vessel holds {}: the wort comes out stronger. Dilute it in the fermenter or a second vessel.",
                style.volume(*needed),
                style.volume(*capacity)
            ),
            Self::DiastaticPowerLow { power } => format!(
                "Diastatic power of {:.0} WK may be too low to convert the grist: add enzymes or more base malt.",
                power.windisch_kolbach()
            ),
            Self::TooBitterWithoutBittering { aim, predicted } => format!(
                "Late hops alone give {:.0} IBU, above the target of {:.0} IBU; bittering hops removed.",
                predicted.ibu(),
                aim.ibu()
            ),
            Self::IonsUnbalanced { excess } => format!(
                "The original sheet's water profile does not balance (off by {:.1} mEq/L).",
                excess.milliequivalents_per_litre()
            ),
            Self::GasBeyondWanted { wanted, there } => format!(
                "Already {} before priming, above the target of {}: add no sugar.",
                style.carbon_dioxide(*there),
                style.carbon_dioxide(*wanted)
            ),
            Self::PackageOverLimit { .. } => self.bursts(style),
            Self::CarbonationDisagrees { printed, package } => format!(
                "Packaging says {}, the target figures {}: the packaging line is used.",
                style.carbon_dioxide(*package),
                style.carbon_dioxide(*printed)
            ),
            Self::KegOverLimit { gauge, at, limit } => format!(
                "The keg could reach {} at {}; many are rated for {}: keep it cold, stay below its stamped pressure, fit a relief valve.",
                style.pressure(*gauge),
                style.temperature(*at),
                style.pressure(*limit)
            ),
            Self::AlcoholBeyondYeast {
                name,
                alcohol: reached,
                usual,
                most,
            } => format!(
                "{name} usually stops at {} to {} % alcohol by volume, this beer reaches {}. Use a stronger yeast, or brew a weaker beer.",
                usual.percent().round(),
                most.percent().round(),
                alcohol(*reached)
            ),
            Self::StrongWort { original } => format!(
                "Wort of {}: an ordinary pitch of yeast may stop early. A plan counts a third more; aerate again 12 to 18 h after pitching.",
                style.gravity(*original)
            ),
            Self::HopsBeforeSouring { name } => format!(
                "{name} goes in before souring: hops hinder lactic bacteria, and the wort may stay sweet. Add it when the boil begins."
            ),
            Self::HopCreep => "Dry hops with yeast present may ferment the beer further, by up to 0.7 % of alcohol by volume in 5 days and \
                               1.3 % in 40. Package only when the gravity is steady."
                .to_owned(),
            Self::HopCreepSealed { container, gas } => format!(
                "Dry hops and live yeast in {}: the hops may free sugar for up to {} more, which bursts them. Keep the beer at fermentation temperature until the gravity has not moved for 2 weeks after dry hopping, or use a keg with a relief valve.",
                container.plural(),
                style.carbon_dioxide(*gas)
            ),
            Self::YeastTemperature {
                name,
                at,
                lowest,
                highest,
            } => format!(
                "{name} usually ferments at {} to {}, here {}: {}.",
                style.temperature(*lowest),
                style.temperature(*highest),
                style.temperature(*at),
                if at < lowest {
                    "it may stop early; start warmer"
                } else {
                    "fruity and solvent flavours; keep it cooler"
                }
            ),
            Self::PreservedJuice {
                names,
                free,
                molecular,
                sorbic,
                ph,
                outlook,
            } => format!(
                "Preserved juice ({}): {:.1} mg/L SO2 ({:.2} molecular) and {:.1} mg/L sorbic acid in the beer at pH {:.1}; {}. Add it while fermentation is vigorous, and confirm a stable gravity before packaging.",
                names.join(", "),
                free.milligrams_per_litre(),
                molecular.milligrams_per_litre(),
                sorbic.milligrams_per_litre(),
                ph.value(),
                match outlook {
                    Outlook::UsuallyFerments => "may delay fermentation, rarely stops it",
                    Outlook::MayBeHindered => "may delay or stop fermentation",
                    Outlook::OftenStops =>
                        "often stops fermentation: use juice without preservatives",
                }
            ),
            Self::NoBitteringHop { aim, predicted } => format!(
                "Hop additions reach {:.0} IBU of the {:.0} IBU target, and none can be adjusted.",
                predicted.ibu(),
                aim.ibu()
            ),
        }
    }
}

impl Warning {
    /// A container that bursts: how much gas, whence it comes, and the ways out.
    fn bursts(&self, style: Style) -> String {
        let Self::PackageOverLimit {
            container,
            most,
            limit,
            heavy_limit,
            from_sugar,
            to_ferment_out,
            at_packaging,
            carbonate_at_most,
        } = self
        else {
            return String::new();
        };
        let gas = |gas: CarbonDioxide| style.carbon_dioxide(gas);
        let heavy = heavy_limit.map_or_else(String::new, |heavy| {
            format!(
                ", heavy swing-top or wheat-beer bottles {}, above that only sparkling-wine bottles",
                gas(heavy)
            )
        });
        let kept = match container {
            Container::Bottle | Container::Unknown => "ordinary crown-capped bottles",
            _ => container.plural(),
        };
        let holds = limit.map_or_else(
            || "they are not made for pressure".to_owned(),
            |limit| format!("{kept} hold {}{heavy}", gas(limit)),
        );
        let names: Vec<_> = to_ferment_out
            .iter()
            .chain(at_packaging)
            .map(String::as_str)
            .collect();
        let whence = match (from_sugar.grams_per_litre() > 0.0, names.is_empty()) {
            (false, _) => String::new(),
            (true, true) => format!(" Sugar still to ferment brings {}.", gas(*from_sugar)),
            (true, false) => format!(
                " Sugar still to ferment brings {}: {}.",
                gas(*from_sugar),
                names.join(", ")
            ),
        };
        let left_out = format!("use less {}", at_packaging.join(" and "));
        let lower = carbonate_at_most
            .map(|most| format!("carbonate to {} at most", gas(most)))
            .unwrap_or_default();
        let ways = [
            (!to_ferment_out.is_empty() || (names.is_empty() && !whence.is_empty()))
                .then_some("let it ferment out before packaging"),
            (!at_packaging.is_empty()).then_some(left_out.as_str()),
            carbonate_at_most.map(|_| lower.as_str()),
        ];
        let ways: Vec<_> = ways.into_iter().flatten().collect();
        let ways = if ways.is_empty() {
            String::new()
        } else {
            format!(" {}.", capital(&ways.join(", or ")))
        };
        format!(
            "{} would reach {} and burst: {holds}.{whence}{ways}",
            capital(container.plural()),
            gas(*most)
        )
    }
}

/// How much of a vessel is filled, in percent.
fn part_pct(filled: Volume, capacity: Volume) -> f64 {
    100.0 * in_litres(filled) / in_litres(capacity).max(f64::MIN_POSITIVE)
}

const fn owner(side: Side) -> &'static str {
    match side {
        Side::Source => "The original",
        Side::Target => "Your",
    }
}

const fn place(side: Side) -> &'static str {
    match side {
        Side::Source => "at the original brewery",
        Side::Target => "in your brewhouse",
    }
}
