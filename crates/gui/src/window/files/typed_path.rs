//! A path as a person types it: with `~` for their own folder, and without the ending that goes without saying.

use super::{Purpose, TeachFile};
use std::path::{Path, PathBuf};

const YARD_ENDING: &str = ".yard.ron";
const LESSON_ENDING: &str = ".lesson.ron";

/// The whole path that is meant by what was typed.
pub(in crate::window) fn typed_path(text: &str, purpose: Purpose) -> PathBuf {
    let path = with_ending(&from_home(text.trim(), std::env::home_dir().as_deref()), purpose);
    std::path::absolute(&path).unwrap_or(path)
}

/// `~` and `~/logs` in a person's own folder.
fn from_home(text: &str, home: Option<&Path>) -> PathBuf {
    match (text.strip_prefix('~'), home) {
        (Some(""), Some(home)) => home.to_owned(),
        (Some(rest), Some(home)) if rest.starts_with(['/', std::path::MAIN_SEPARATOR]) => {
            let within = rest.trim_start_matches(['/', std::path::MAIN_SEPARATOR]);
            home.join(within)
        }
        _ => PathBuf::from(text),
    }
}

/// A name without an ending gets the one that is offered; an ending that says something else stays.
fn with_ending(path: &Path, purpose: Purpose) -> PathBuf {
    let Some(name) = path.file_name().and_then(|name| name.to_str()) else { return path.to_owned() };
    let lower = name.to_lowercase();
    let is_ron = lower.ends_with(".ron");
    let ending = match purpose {
        Purpose::Open | Purpose::Photograph | Purpose::Teach(TeachFile::OpenLesson) => {
            return path.to_owned();
        }
        Purpose::SaveAs if is_ron => return path.to_owned(),
        Purpose::SaveAs => YARD_ENDING,
        // A lesson is known by its whole ending.
        Purpose::Teach(TeachFile::SaveLesson) if lower.ends_with(LESSON_ENDING) => return path.to_owned(),
        Purpose::Teach(TeachFile::SaveLesson) => LESSON_ENDING,
        Purpose::Teach(_) if path.extension().is_some() => return path.to_owned(),
        Purpose::Teach(file) => {
            let offered = file.offered().and_then(|offered| Path::new(offered).extension());
            return offered.map_or_else(|| path.to_owned(), |ending| path.with_extension(ending));
        }
    };
    let short = if is_ron { ".ron" } else { "" };
    let stem = name.get(..name.len() - short.len()).unwrap_or(name);
    // `my.yard` means `my.yard.ron`.
    let half = ending.trim_end_matches(".ron");
    let stem = if stem.to_lowercase().ends_with(half) {
        stem.get(..stem.len() - half.len()).unwrap_or(stem)
    } else {
        stem
    };
    path.with_file_name(format!("{stem}{ending}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_own_folder_is_known() {
        let home = Some(Path::new("/home/me"));
        assert_eq!(from_home("~", home), Path::new("/home/me"));
        assert_eq!(from_home("~/logs/a.ron", home), Path::new("/home/me/logs/a.ron"));
        assert_eq!(from_home("~other/a.ron", home), Path::new("~other/a.ron"));
        assert_eq!(from_home("a~b.ron", home), Path::new("a~b.ron"));
        assert_eq!(from_home("~/a.ron", None), Path::new("~/a.ron"));
    }

    #[test]
    fn the_ending_goes_without_saying_and_another_one_stays() {
        let ended = |name: &str, purpose| with_ending(Path::new(name), purpose).display().to_string();
        for (typed, meant) in [
            ("/a/my", "/a/my.yard.ron"),
            ("my.yard", "my.yard.ron"),
            ("my.ron", "my.ron"),
            ("my.yard.ron", "my.yard.ron"),
            ("Alder Flat 2.5", "Alder Flat 2.5.yard.ron"),
            ("höfe.YARD.RON", "höfe.YARD.RON"),
        ] {
            assert_eq!(ended(typed, Purpose::SaveAs), meant);
        }
        for (typed, meant) in
            [("my", "my.lesson.ron"), ("my.ron", "my.lesson.ron"), ("my.lesson.ron", "my.lesson.ron")]
        {
            assert_eq!(ended(typed, Purpose::Teach(TeachFile::SaveLesson)), meant);
        }
        assert_eq!(ended("sheet", Purpose::Teach(TeachFile::Handout)), "sheet.pdf");
        assert_eq!(ended("sheet.svg", Purpose::Teach(TeachFile::Handout)), "sheet.svg");
        assert_eq!(
            ended("sheet.doc", Purpose::Teach(TeachFile::Handout)),
            "sheet.doc",
            "refused later, and told"
        );
        for purpose in [Purpose::Open, Purpose::Photograph, Purpose::Teach(TeachFile::OpenLesson)] {
            assert_eq!(ended("my", purpose), "my");
        }
    }
}
