//! One field of a form: what it is called, how it is measured, and where its value stands in the part.

use super::unit::FieldUnit;
use super::{fields_bar, fields_chain, fields_powerhead, fields_setup};
use barpoise_core::propose::{mark_proposed, unmark_proposed};
use barpoise_core::record::{ConstructionFile, NoseFile, OutlineFile, PartFile, PartKind, SequenceFile};
use barpoise_core::{Range, ranges};

/// Where in the form a field stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Section {
    /// What is stamped on the part or stands in its papers.
    Read,
    /// What a tape or a caliper gives.
    Measured,
    /// What a scale or a cord gives.
    Weighed,
    /// What is seldom needed.
    Rare,
}

impl Section {
    /// Every one, from the top of the form.
    pub const ALL: [Self; 4] = [Self::Read, Self::Measured, Self::Weighed, Self::Rare];

    /// Its heading.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Read => "Stamped on it or in its papers",
            Self::Measured => "With a tape and a caliper",
            Self::Weighed => "On a scale and a cord",
            Self::Rare => "Seldom needed",
        }
    }
}

/// A field.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its path in the part, as a fault has it.
    pub path: &'static str,
    /// Its name.
    pub label: &'static str,
    /// How it is measured, in one sentence.
    pub hint: &'static str,
    /// Where it stands.
    pub section: Section,
    /// What it holds.
    pub value: Value,
}

/// What a field holds.
#[derive(Clone, Copy, Debug)]
pub enum Value {
    /// A line of text.
    Text,
    /// A number.
    Number {
        /// What the file writes it in.
        unit: FieldUnit,
        /// What is allowed.
        range: &'static Range,
        /// It may be left out.
        optional: bool,
    },
    /// One of several.
    Pick,
}

impl Field {
    /// A number.
    pub const fn number(
        section: Section,
        path: &'static str,
        label: &'static str,
        unit: FieldUnit,
        range: &'static Range,
        hint: &'static str,
    ) -> Self {
        Self { path, label, hint, section, value: Value::Number { unit, range, optional: false } }
    }

    /// A number that may be left out.
    pub const fn optional(
        section: Section,
        path: &'static str,
        label: &'static str,
        unit: FieldUnit,
        range: &'static Range,
        hint: &'static str,
    ) -> Self {
        Self { path, label, hint, section, value: Value::Number { unit, range, optional: true } }
    }

    /// A line of text.
    pub const fn text(section: Section, path: &'static str, label: &'static str, hint: &'static str) -> Self {
        Self { path, label, hint, section, value: Value::Text }
    }

    /// One of several.
    pub const fn pick(section: Section, path: &'static str, label: &'static str, hint: &'static str) -> Self {
        Self { path, label, hint, section, value: Value::Pick }
    }

    /// True where the part has this field as it is built: a hard nose has no pitch.
    pub fn applies(&self, part: &PartFile) -> bool {
        match self.value {
            Value::Number { optional: false, .. } => part.number(self.path).is_some(),
            _ => true,
        }
    }
}

/// The fields of a kind of part, from the top of its form.
pub const fn fields(kind: PartKind) -> &'static [Field] {
    match kind {
        PartKind::Powerhead => fields_powerhead::FIELDS,
        PartKind::Bar => fields_bar::FIELDS,
        PartKind::Chain => fields_chain::FIELDS,
        PartKind::Setup => fields_setup::FIELDS,
    }
}

/// The text of a text field, or the chosen option's key.
pub fn text<'a>(part: &'a PartFile, path: &str) -> &'a str {
    match (part, path) {
        (_, "name") => part.name(),
        (_, "note") => part.note(),
        (PartFile::Powerhead(head), "mount") => &head.mount,
        (PartFile::Powerhead(head), "outline") => match head.outline {
            OutlineFile::Generic => "generic",
            OutlineFile::Corners(_) => "own corners",
        },
        (PartFile::Bar(bar), "mount") => &bar.mount,
        (PartFile::Bar(bar), "construction") => match bar.construction {
            ConstructionFile::Solid => "solid",
            ConstructionFile::Laminated { .. } => "laminated",
            ConstructionFile::Lightened { .. } => "lightened",
        },
        (PartFile::Bar(bar), "nose") => match bar.nose {
            NoseFile::Solid => "hard",
            NoseFile::Sprocket { .. } => "sprocket",
        },
        (PartFile::Chain(chain), "sequence") => match chain.sequence {
            SequenceFile::FullComplement => "full complement",
            SequenceFile::SemiSkip => "semi-skip",
            SequenceFile::FullSkip => "full skip",
        },
        (PartFile::Setup(setup), "powerhead") => &setup.powerhead,
        (PartFile::Setup(setup), "bar") => &setup.bar,
        (PartFile::Setup(setup), "chain") => &setup.chain,
        _ => "",
    }
}

/// The fixed options of a pick; those of a setup come from the yard.
pub const fn options(path: &str) -> &'static [&'static str] {
    match path.as_bytes() {
        b"outline" => &["generic"],
        b"construction" => &["solid", "laminated", "lightened"],
        b"nose" => &["sprocket", "hard"],
        b"sequence" => &["full complement", "semi-skip", "full skip"],
        _ => &[],
    }
}

/// An option as it is shown.
pub fn option_text(path: &str, option: &str) -> String {
    match (path, option) {
        ("nose", "sprocket") => "sprocket nose".to_owned(),
        ("nose", "hard") => "hard nose, any pitch".to_owned(),
        ("outline", "generic") => "generic, stretched to fit".to_owned(),
        ("sequence", "full complement") => "full".to_owned(),
        ("sequence", "full skip") => "skip".to_owned(),
        ("construction", "solid") => "solid, one plate".to_owned(),
        ("construction", "laminated") => "laminated, three sheets".to_owned(),
        ("construction", "lightened") => "lightweight, pockets or filling".to_owned(),
        _ => option.to_owned(),
    }
}

/// Puts a text or an option. A number that comes with the option keeps its place, or waits to be proposed.
pub fn set_text(part: &mut PartFile, path: &str, value: &str) {
    let value = value.trim();
    let mut appears = None;
    match (&mut *part, path) {
        (part, "name") => value.clone_into(part.name_mut()),
        (part, "note") => value.clone_into(part.note_mut()),
        (PartFile::Powerhead(head), "mount") => value.clone_into(&mut head.mount),
        (PartFile::Powerhead(head), "outline") => head.outline = OutlineFile::Generic,
        (PartFile::Bar(bar), "mount") => value.clone_into(&mut bar.mount),
        (PartFile::Bar(bar), "construction") => {
            let share = match bar.construction {
                ConstructionFile::Solid => 1.0,
                ConstructionFile::Laminated { share } | ConstructionFile::Lightened { share } => share,
            };
            let was = bar.construction;
            bar.construction = match value {
                "laminated" => ConstructionFile::Laminated { share },
                "lightened" => ConstructionFile::Lightened { share },
                _ => ConstructionFile::Solid,
            };
            // A share that nobody weighed is a common one.
            if std::mem::discriminant(&was) != std::mem::discriminant(&bar.construction) {
                appears = Some("construction.share");
            }
        }
        (PartFile::Bar(bar), "nose") => {
            bar.nose = match (value, bar.nose) {
                ("hard", _) => NoseFile::Solid,
                (_, NoseFile::Sprocket { pitch_in }) => NoseFile::Sprocket { pitch_in },
                (_, NoseFile::Solid) => {
                    appears = Some("nose.pitch_in");
                    NoseFile::Sprocket { pitch_in: ranges::PITCH.min }
                }
            };
        }
        (PartFile::Chain(chain), "sequence") => {
            chain.sequence = match value {
                "semi-skip" => SequenceFile::SemiSkip,
                "full skip" => SequenceFile::FullSkip,
                _ => SequenceFile::FullComplement,
            };
        }
        (PartFile::Setup(setup), "powerhead") => value.clone_into(&mut setup.powerhead),
        (PartFile::Setup(setup), "bar") => value.clone_into(&mut setup.bar),
        (PartFile::Setup(setup), "chain") => value.clone_into(&mut setup.chain),
        _ => {}
    }
    if let Some(path) = appears {
        unmark_proposed(part, path);
        if part.number(path).is_some() {
            mark_proposed(part, Some(path));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;
    use barpoise_core::propose::proposed_fields;
    use barpoise_core::record::PartId;

    #[test]
    fn every_field_stands_in_its_part() {
        let file = demo().unwrap().file().clone();
        for (kind, name) in [
            (PartKind::Powerhead, "Bittern"),
            (PartKind::Bar, "B24 light"),
            (PartKind::Chain, "3/8 full"),
            (PartKind::Setup, "Wren B18"),
        ] {
            let mut part = file.part(&PartId::new(kind, name)).unwrap();
            for field in fields(kind) {
                match field.value {
                    Value::Number { range, .. } if field.path != "inertia.moment_kg_m2" => {
                        let value = range.min.ceil().max(range.min);
                        assert!(part.set_number(field.path, Some(value)), "{kind:?} {}", field.path);
                        assert_eq!(part.number(field.path), Some(value));
                    }
                    Value::Number { .. } => {}
                    Value::Text => {
                        set_text(&mut part, field.path, "some words");
                        assert_eq!(text(&part, field.path), "some words");
                    }
                    Value::Pick => {
                        for option in options(field.path) {
                            set_text(&mut part, field.path, option);
                            assert_eq!(text(&part, field.path), *option);
                        }
                    }
                }
            }
            for (path, _) in proposed_fields(kind) {
                assert!(fields(kind).iter().any(|field| field.path == *path), "{path} has no field");
            }
        }
    }
}
