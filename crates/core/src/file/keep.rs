//! A yard in its old file's own words: what changed is changed where it stands, all else stays as a person wrote it.
//!
//! The old text, and the old and the new yard as the program writes them, are taken apart into trees of spans. Where the
//! two written yards differ, the old text gets the new words; fields and items come and go at their place. What comes out
//! is read again, and only stands if it is the new yard.

use super::read::parse_yard;
use super::tokens::{DEEPEST, Kind, Tokens, comments};
use super::write::to_ron;
use crate::record::YardFile;
use crate::yard::Yard;
use std::ops::Range;

/// What a save of `new` writes over this text of `old`, where all its comments can be kept: only what changed is another.
pub fn text_with_changes(text: &str, old: &Yard, new: &Yard) -> Option<String> {
    let is = to_ron(new.file()).ok()?;
    edited(text, old.file(), new.file(), &is).filter(|(_, whole)| *whole).map(|(text, _)| text)
}

/// A text in which only that is changed by which `new` differs from `old`, and whether all its comments are still in it;
/// `is` is the new one as the program writes it. `None` where that cannot be had.
pub(super) fn edited(text: &str, old: &YardFile, new: &YardFile, is: &str) -> Option<(String, bool)> {
    let was = to_ron(old).ok()?;
    edited_text(text, &was, is, |edited| parse_yard(edited, "").is_ok_and(|read| read.file() == new))
}

/// The same for any file: `was` is what the text holds as the program writes it, `is` the new one, and `holds` says of a
/// text that it is read as the new one.
pub(crate) fn edited_text(
    text: &str,
    was: &str,
    is: &str,
    holds: impl FnOnce(&str) -> bool,
) -> Option<(String, bool)> {
    let (tree, was_tree, is_tree) = (Parser::tree(text)?, Parser::tree(was)?, Parser::tree(is)?);
    let mut edits = Edits { text, was, is, list: Vec::new() };
    edits.compare(&tree, &was_tree, &is_tree);
    let edited = edits.applied()?;
    let whole = comments(text).eq(comments(&edited));
    holds(&edited).then_some((edited, whole))
}

/// A value of a text.
#[derive(Debug)]
struct Node<'a> {
    /// The value, with the name before its brackets.
    span: Range<usize>,
    /// That name; empty where there is none.
    tag: &'a str,
    inner: Inner<'a>,
}

#[derive(Debug)]
enum Inner<'a> {
    /// A number, a text, a bare name.
    Leaf,
    /// `(name: value, …)`.
    Fields(Group<'a>),
    /// `[value, …]`, or a tuple: names are empty.
    Items(Group<'a>),
}

/// What stands between two brackets.
#[derive(Debug)]
struct Group<'a> {
    /// Behind the opening bracket.
    open: usize,
    members: Vec<Member<'a>>,
}

impl<'a> Group<'a> {
    fn field(&self, name: &str) -> Option<&Member<'a>> {
        self.members.iter().find(|member| member.name == name)
    }
}

#[derive(Debug)]
struct Member<'a> {
    name: &'a str,
    /// Where its name, or without one its value begins.
    begin: usize,
    value: Node<'a>,
    /// Behind its comma.
    comma: Option<usize>,
}

impl Member<'_> {
    fn end(&self) -> usize {
        self.comma.unwrap_or(self.value.span.end)
    }
}

/// Takes a text apart. It is read by a real parser as well: this one only has to find its way.
struct Parser<'a> {
    text: &'a str,
    tokens: Tokens<'a>,
}

impl<'a> Parser<'a> {
    fn tree(text: &'a str) -> Option<Node<'a>> {
        let mut parser = Self { text, tokens: Tokens::new(text, 0) };
        let node = parser.value(0)?;
        parser.tokens.next().is_none().then_some(node)
    }

    /// The next token, where it is of this kind.
    fn take(&mut self, kind: Kind) -> bool {
        let found = self.tokens.peek().is_some_and(|token| token.kind == kind);
        if found {
            self.tokens.next();
        }
        found
    }

    fn value(&mut self, depth: usize) -> Option<Node<'a>> {
        let first = self.tokens.next()?;
        let word = first.start..self.tokens.at;
        let opens = match first.kind {
            Kind::Open { .. } => true,
            Kind::Word => self.take(Kind::Open { list: false }),
            Kind::Text => false,
            Kind::Close | Kind::Comma | Kind::Colon => return None,
        };
        let tag = if first.kind == Kind::Word { self.text.get(word)? } else { "" };
        let inner = if opens { self.members(depth)? } else { Inner::Leaf };
        Some(Node { span: first.start..self.tokens.at, tag, inner })
    }

    fn members(&mut self, depth: usize) -> Option<Inner<'a>> {
        if depth >= DEEPEST {
            return None;
        }
        let open = self.tokens.at;
        let mut members: Vec<Member<'a>> = Vec::new();
        while !self.take(Kind::Close) {
            if members.last().is_some_and(|last| last.comma.is_none()) {
                return None;
            }
            let begin = self.tokens.peek()?.start;
            let (name, value) = (self.name(), self.value(depth + 1)?);
            let comma = self.take(Kind::Comma).then_some(self.tokens.at);
            members.push(Member { name, begin, value, comma });
        }
        let named = members.iter().filter(|member| !member.name.is_empty()).count();
        let group = |members| Group { open, members };
        match named {
            0 => Some(Inner::Items(group(members))),
            all if all == members.len() => Some(Inner::Fields(group(members))),
            _ => None,
        }
    }

    /// The name of a field, its colon taken; empty where a value stands by itself.
    fn name(&mut self) -> &'a str {
        let mut ahead = self.tokens.clone();
        let word = ahead.next().filter(|token| token.kind == Kind::Word);
        let name = word.and_then(|word| self.text.get(word.start..ahead.at));
        match (name, ahead.next()) {
            (Some(name), Some(colon)) if colon.kind == Kind::Colon => {
                self.tokens = ahead;
                name
            }
            _ => "",
        }
    }
}

/// What is to be changed in a text.
struct Edits<'a> {
    text: &'a str,
    was: &'a str,
    is: &'a str,
    list: Vec<(Range<usize>, String)>,
}

impl<'a> Edits<'a> {
    /// `there` in the text, `was` and `is` as the program writes them.
    fn compare(&mut self, there: &Node<'a>, was: &Node<'a>, is: &Node<'a>) {
        if self.is_same(was, is) {
            return;
        }
        let one_tag = there.tag == is.tag && was.tag == is.tag;
        match (&there.inner, &was.inner, &is.inner) {
            (Inner::Fields(there), Inner::Fields(was), Inner::Fields(is)) if one_tag => {
                self.fields(there, was, is);
            }
            (Inner::Items(group), Inner::Items(was), Inner::Items(is))
                if one_tag && group.members.len() == was.members.len() =>
            {
                self.items(group, was, is);
            }
            _ => {
                let words = self.words(&is.span, is.span.start, there.span.start);
                self.list.push((there.span.clone(), words));
            }
        }
    }

    fn is_same(&self, was: &Node<'_>, is: &Node<'_>) -> bool {
        self.was.get(was.span.clone()) == self.is.get(is.span.clone())
    }

    fn fields(&mut self, there: &Group<'a>, was: &Group<'a>, is: &Group<'a>) {
        let mut new = Vec::new();
        for member in &is.members {
            match (there.field(member.name), was.field(member.name)) {
                (Some(there), Some(was)) => self.compare(&there.value, &was.value, &member.value),
                (Some(there), None) => {
                    let words = self.words(&member.value.span, member.begin, there.begin);
                    self.list.push((there.value.span.clone(), words));
                }
                // What the file leaves out and the program writes, at its default: it may stay left out.
                (None, Some(was)) if self.is_same(&was.value, &member.value) => {}
                (None, _) => new.push(member),
            }
        }
        for member in &there.members {
            if was.field(member.name).is_some() && is.field(member.name).is_none() {
                self.remove(member);
            }
        }
        self.add(there, there.members.last(), &new);
    }

    fn items(&mut self, there: &Group<'a>, was: &Group<'a>, is: &Group<'a>) {
        let (many, now) = (was.members.len(), is.members.len());
        let same = |at: usize, other: usize| match (was.members.get(at), is.members.get(other)) {
            (Some(was), Some(is)) => self.is_same(&was.value, &is.value),
            _ => false,
        };
        let least = many.min(now);
        let before = (0..least).take_while(|at| same(*at, *at)).count();
        let behind = (0..least - before).take_while(|at| same(many - 1 - at, now - 1 - at)).count();
        // Between what is as it was at either end: as many as both have are compared, the rest goes or comes.
        let (gone, come) = (many - before - behind, now - before - behind);
        let pairs = gone.min(come);
        for at in before..before + pairs {
            if let (Some(there), Some(was), Some(is)) =
                (there.members.get(at), was.members.get(at), is.members.get(at))
            {
                self.compare(&there.value, &was.value, &is.value);
            }
        }
        for member in there.members.iter().skip(before + pairs).take(gone - pairs) {
            self.remove(member);
        }
        let new: Vec<_> = is.members.iter().skip(before + pairs).take(come - pairs).collect();
        let after = (before + pairs).checked_sub(1).and_then(|at| there.members.get(at));
        self.add(there, after, &new);
    }

    /// A member goes, and its line with it where it stood alone there.
    fn remove(&mut self, member: &Member<'_>) {
        let (mut begin, mut end) = (member.begin, member.end());
        let before = self.text.get(..begin).unwrap_or_default();
        let blank = before.len() - before.trim_end_matches([' ', '\t']).len();
        let behind = self.text.get(end..).unwrap_or_default();
        let rest_of_line = behind.split('\n').next().unwrap_or_default();
        if self.stands_alone(member.begin) && rest_of_line.trim().is_empty() {
            begin -= blank;
            end += (rest_of_line.len() + 1).min(behind.len());
        }
        self.list.push((begin..end, String::new()));
    }

    /// Members come behind another, or first between the brackets.
    fn add(&mut self, there: &Group<'a>, after: Option<&Member<'a>>, new: &[&Member<'a>]) {
        if new.is_empty() {
            return;
        }
        let at = after.map_or(there.open, Member::end);
        let like = after.or(there.members.first());
        let own_line = like.is_none_or(|like| self.stands_alone(like.begin));
        let like_at = like.map_or(there.open, |like| like.begin);
        let mut words = String::new();
        if after.is_some_and(|after| after.comma.is_none()) {
            words.push(',');
        }
        for member in new {
            let member_words = self.words(&(member.begin..member.value.span.end), member.begin, like_at);
            if own_line {
                words.push('\n');
                words.push_str(self.indent(like_at));
                if like.is_none() {
                    words.push_str("    ");
                }
            } else if after.is_some() {
                words.push(' ');
            }
            words.push_str(&member_words);
            words.push(',');
        }
        if like.is_none() {
            words.push('\n');
            words.push_str(self.indent(there.open));
        } else if after.is_none() && !own_line {
            words.push(' ');
        }
        self.list.push((at..at, words));
    }

    fn stands_alone(&self, at: usize) -> bool {
        let before = self.text.get(..at).unwrap_or_default();
        before.trim_end_matches([' ', '\t']).ends_with('\n')
    }

    /// The blanks with which a line of the old text begins.
    fn indent(&self, at: usize) -> &'a str {
        indent_of(self.text, at)
    }

    /// New words as the program writes them, their lines set in as at a place of the old text.
    fn words(&self, span: &Range<usize>, begin: usize, at: usize) -> String {
        let words = self.is.get(span.clone()).unwrap_or_default();
        let (from, to) = (indent_of(self.is, begin), self.indent(at));
        let mut lines = words.split('\n');
        let mut moved = lines.next().unwrap_or_default().to_owned();
        for line in lines {
            moved.push('\n');
            moved.push_str(to);
            moved.push_str(line.strip_prefix(from).unwrap_or(line));
        }
        moved
    }

    fn applied(mut self) -> Option<String> {
        self.list.sort_by_key(|(span, _)| (span.start, span.end));
        let mut edited = String::with_capacity(self.text.len());
        let mut at = 0;
        for (span, words) in &self.list {
            edited.push_str(self.text.get(at..span.start)?);
            edited.push_str(words);
            at = span.end;
        }
        edited.push_str(self.text.get(at..)?);
        Some(edited)
    }
}

fn indent_of(text: &str, at: usize) -> &str {
    let before = text.get(..at).unwrap_or_default();
    let begin = before.rfind('\n').map_or(0, |end| end + 1);
    let line = text.get(begin..).unwrap_or_default();
    line.get(..line.len() - line.trim_start_matches([' ', '\t']).len()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::{demo, demo_text};
    use crate::record::{MeasuredFile, PartFile, PartId, PartKind, ReadingFile};
    use proptest::prelude::*;

    fn edited_demo(change: impl FnOnce(&mut YardFile)) -> (String, bool) {
        let old = demo().unwrap().file().clone();
        let mut new = old.clone();
        change(&mut new);
        edit(demo_text(), &old, &new).unwrap()
    }

    fn edit(text: &str, old: &YardFile, new: &YardFile) -> Option<(String, bool)> {
        edited(text, old, new, &to_ron(new).unwrap())
    }

    /// Lines of the one text that are not in the other at their place, by a plain walk from both ends.
    fn apart(old: &str, new: &str) -> (Vec<String>, Vec<String>) {
        let (a, b): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
        let before = a.iter().zip(&b).take_while(|(a, b)| a == b).count();
        let behind =
            a[before..].iter().rev().zip(b[before..].iter().rev()).take_while(|(a, b)| a == b).count();
        let between = |lines: &[&str]| {
            lines[before..lines.len() - behind].iter().map(|line| (*line).to_owned()).collect::<Vec<_>>()
        };
        (between(&a), between(&b))
    }

    #[test]
    fn one_number_is_changed_where_it_stands_beside_its_comment() {
        let old = demo().unwrap().file().clone();
        let dry = old.powerheads[1].dry_mass_kg;
        let (text, whole) = edited_demo(|file| file.powerheads[1].dry_mass_kg = 4.415);
        assert!(whole);
        let (gone, come) = apart(demo_text(), &text);
        assert_eq!(gone, [format!("            dry_mass_kg: {dry},")]);
        assert_eq!(come, ["            dry_mass_kg: 4.415,"]);
    }

    #[test]
    fn fields_and_items_come_and_go_at_their_place() {
        let (text, whole) = edited_demo(|file| {
            file.bars[0].weighed_mass_kg = Some(1.5);
            file.readings.remove(3);
            file.readings.push(ReadingFile::new(
                MeasuredFile::Bar { bar: "B24".into(), weight_kg: 1.5, uncertainty_kg: 0.01 },
                None,
            ));
            file.setups[0].name = "Bittern at home".into();
        });
        assert!(whole, "every comment is still there");
        assert!(text.contains("weighed_mass_kg: 1.5,\n"), "{text}");
        assert!(text.contains("name: \"Bittern at home\""));
        let missing: Vec<&str> =
            demo_text().lines().filter(|line| !text.lines().any(|new| new == *line)).collect();
        // The setup's name, and the reading in whose place the new one stands.
        assert_eq!(
            missing,
            [
                "            name: \"Bittern B24\",",
                "            measured: Hang(nose_down_deg: 15.2, uncertainty_deg: 1),",
                "            setup: \"Wren B18\",",
                "            fuel_fill: 0.2,",
                "            oil_fill: 0.3,",
                "            note: \"Invented.\",",
            ]
        );
        // A comment within what goes, goes with it, and that is said.
        let (text, whole) = edited_demo(|file| {
            file.readings.remove(3);
            file.setups.remove(7);
        });
        assert!(!whole && !text.contains("name: \"Wren B18\""));
    }

    #[test]
    fn what_is_not_the_yard_of_the_text_is_not_edited() {
        let old = demo().unwrap().file().clone();
        for text in ["", "(", "(version: 2)", "(version: 2, name: \"half", "/* never closed"] {
            assert_eq!(edit(text, &old, &old).map(|_| ()), None, "{text}");
        }
    }

    proptest! {
        #[test]
        fn law_one_changed_number_leaves_every_other_byte_alone(
            pick in any::<prop::sample::Index>(), place in any::<prop::sample::Index>(), factor in 0.5_f64..1.5
        ) {
            let old = demo().unwrap().file().clone();
            let ids: Vec<PartId> = [PartKind::Powerhead, PartKind::Bar, PartKind::Chain]
                .into_iter()
                .flat_map(|kind| old.part_names(kind).into_iter().map(move |name| PartId::new(kind, name)))
                .collect();
            let id = pick.get(&ids);
            let mut part = old.part(id).unwrap();
            let paths: &[&str] = match part {
                PartFile::Powerhead(_) => &["dry_mass_kg", "centroid.x_mm", "fuel_tank.corner.y_mm", "power_kw"],
                PartFile::Bar(_) => &["overall_length_mm", "nose_radius_mm", "gauge_mm"],
                _ => &["pitch_in", "mass_per_drive_link_g", "cutter_height_mm"],
            };
            let path = place.get(paths);
            let was = part.number(path).unwrap();
            // Any number will do that is written with a few digits; the file need not be a sound yard.
            let now = ((was * factor + 0.125) * 1000.0).round() / 1000.0;
            part.set_number(path, Some(now));
            let mut new = old.clone();
            new.change_part(id, part);
            prop_assume!(crate::Yard::new(new.clone()).is_ok());
            let (text, whole) = edit(demo_text(), &old, &new).unwrap();
            prop_assert!(whole);
            let (a, b) = (demo_text().as_bytes(), text.as_bytes());
            let before = a.iter().zip(b).take_while(|(a, b)| a == b).count();
            let least = a.len().min(b.len()) - before;
            let behind = a.iter().rev().zip(b.iter().rev()).take(least).take_while(|(a, b)| a == b).count();
            let (gone, come) = (&demo_text()[before..a.len() - behind], &text[before..b.len() - behind]);
            let digits = |text: &str| text.chars().all(|letter| "+-.e0123456789".contains(letter));
            prop_assert!(digits(gone) && digits(come), "{gone:?} became {come:?}");
        }
    }
}
