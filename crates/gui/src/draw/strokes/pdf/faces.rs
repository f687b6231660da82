//! The typefaces of the page: only the letters that it has, and which text each of them is.

use super::packed;
use crate::draw::strokes::file::{SheetError, bytes_of};
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use resvg::usvg::fontdb::ID;
use std::collections::BTreeMap;
use subsetter::GlyphRemapper;
use ttf_parser::{GlyphId, RawFace, Tag};

/// Letters of a page are numbered from 0, by these.
const NUMBERS: SystemInfo = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };
const ENCODING: &str = "Identity-H";
/// The height of a letter in the units of a page's fonts.
const EM: f32 = 1000.0;

/// The typefaces of a page, by the document's names for them.
#[derive(Default)]
pub(super) struct Faces(Vec<(ID, Face)>);

/// One typeface, and the letters of it that the page has.
pub(super) struct Face {
    name: String,
    bytes: &'static [u8],
    font: ttf_parser::Face<'static>,
    letters: GlyphRemapper,
    /// Text and width of each letter, by its number on the page.
    texts: BTreeMap<u16, (String, f32)>,
}

impl Faces {
    /// A typeface of the document.
    pub(super) fn face(&mut self, id: ID) -> Result<&mut Face, SheetError> {
        if let Some(at) = self.0.iter().position(|(known, _)| *known == id) {
            return self.0.get_mut(at).map(|(_, face)| face).ok_or_else(unreadable);
        }
        let bytes = bytes_of(id).ok_or_else(unreadable)?;
        let font =
            ttf_parser::Face::parse(bytes, 0).map_err(|error| SheetError::Render(error.to_string()))?;
        let face = Face {
            name: format!("F{}", self.0.len()),
            bytes,
            font,
            letters: GlyphRemapper::new(),
            texts: BTreeMap::new(),
        };
        self.0.push((id, face));
        self.0.last_mut().map(|(_, face)| face).ok_or_else(unreadable)
    }

    /// All that the page uses.
    pub(super) fn used(self) -> impl Iterator<Item = Face> {
        self.0.into_iter().map(|(_, face)| face)
    }
}

fn unreadable() -> SheetError {
    SheetError::Render("the typeface cannot be read".to_owned())
}

impl Face {
    /// Its name on the page.
    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// The height of a letter in the font's own units.
    pub(super) fn units_per_em(&self) -> f32 {
        f32::from(self.font.units_per_em())
    }

    /// Takes a letter up; its number on the page, and its width in thousandths of its height.
    pub(super) fn letter(&mut self, glyph: u16, text: &str) -> (u16, f32) {
        let number = self.letters.remap(glyph);
        let advance = self.font.glyph_hor_advance(GlyphId(glyph)).unwrap_or_default();
        let width = self.in_page_units(advance.into());
        self.texts.entry(number).or_insert_with(|| (text.to_owned(), width));
        (number, width)
    }

    fn in_page_units(&self, units: f32) -> f32 {
        units / self.units_per_em() * EM
    }

    /// Writes the typeface with these letters and no others.
    pub(super) fn write(
        &self,
        pdf: &mut Pdf,
        at: Ref,
        mut next: impl FnMut() -> Ref,
    ) -> Result<(), SheetError> {
        let (letters, described, texts, data) = (next(), next(), next(), next());
        let program = self.program()?;
        let name = self.long_name();

        let mut font = pdf.type0_font(at);
        font.base_font(Name(format!("{name}-{ENCODING}").as_bytes()));
        font.encoding_predefined(Name(ENCODING.as_bytes()));
        font.descendant_font(letters).to_unicode(texts);
        font.finish();

        let mut numbered = pdf.cid_font(letters);
        numbered.subtype(CidFontType::Type0).base_font(Name(name.as_bytes()));
        numbered.system_info(NUMBERS).font_descriptor(described).default_width(0.0);
        let mut widths = numbered.widths();
        for (number, (_, width)) in &self.texts {
            widths.same(*number, *number, *width);
        }
        widths.finish();
        numbered.finish();

        let bounds = self.font.global_bounding_box();
        let side = |units: i16| self.in_page_units(units.into());
        let mut descriptor = pdf.font_descriptor(described);
        descriptor.name(Name(name.as_bytes())).flags(FontFlags::SYMBOLIC);
        descriptor.bbox(Rect::new(
            side(bounds.x_min),
            side(bounds.y_min),
            side(bounds.x_max),
            side(bounds.y_max),
        ));
        descriptor.italic_angle(0.0).ascent(side(self.font.ascender())).descent(side(self.font.descender()));
        let capitals = self.font.capital_height().unwrap_or_else(|| self.font.ascender());
        descriptor.cap_height(side(capitals)).stem_v(self.stem()).font_file3(data);
        descriptor.finish();

        let mut said = UnicodeCmap::new(Name(b"Letters"), NUMBERS);
        for (number, (text, _)) in self.texts.iter().filter(|(_, (text, _))| !text.is_empty()) {
            said.pair_with_multiple(*number, text.chars());
        }
        pdf.cmap(texts, &packed(&said.finish())?).filter(Filter::FlateDecode);
        let packed = packed(&program)?;
        let mut stream = pdf.stream(data, &packed);
        stream.filter(Filter::FlateDecode).pair(Name(b"Subtype"), Name(b"CIDFontType0C"));
        Ok(())
    }

    /// The outlines of the letters alone.
    fn program(&self) -> Result<Vec<u8>, SheetError> {
        let subset = subsetter::subset(self.bytes, 0, &self.letters)
            .map_err(|error| SheetError::Render(error.to_string()))?;
        let raw = RawFace::parse(&subset, 0).map_err(|error| SheetError::Render(error.to_string()))?;
        Ok(raw.table(Tag::from_bytes(b"CFF ")).ok_or_else(unreadable)?.to_vec())
    }

    /// The font's name behind six letters that differ with what is taken of it, as the standard asks.
    fn long_name(&self) -> String {
        /// Powers of it spread the numbers over the letters.
        const SPREAD: u32 = 31;
        let mixed = |sum: u32, glyph: u16| sum.wrapping_mul(SPREAD).wrapping_add(glyph.into());
        let mut sum = self.letters.remapped_gids().fold(u32::from(self.font.weight().to_number()), mixed);
        let mut name = String::new();
        for _ in 0..6 {
            name.extend(char::from_digit(10 + sum % 26, 36).map(|letter| letter.to_ascii_uppercase()));
            sum /= 26;
        }
        let full =
            self.font.names().into_iter().find(|name| name.name_id == ttf_parser::name_id::POST_SCRIPT_NAME);
        format!("{name}+{}", full.and_then(|name| name.to_string()).unwrap_or_else(|| self.name.clone()))
    }

    /// About how wide an upright stroke is: viewers ask for it where they must do without the font.
    fn stem(&self) -> f32 {
        10.0 + 0.22 * (f32::from(self.font.weight().to_number()) - 50.0)
    }
}
