//! Changes of the yard's parts: the yard after one, or every reason against it.

use crate::desk::edit::PartsEdit;
use barpoise_core::record::{PartFile, PartId, Users, YardFile};
use barpoise_core::weigh_in::{Choice, Unknown};
use barpoise_core::{Fault, Yard};

/// The yard after an edit.
///
/// # Errors
/// Every fault of the yard as it would be; the path of each begins with the list and place of the part.
pub fn yard_after(yard: &Yard, edit: &PartsEdit) -> Result<Yard, Vec<Fault>> {
    let mut file = yard.file().clone();
    let gone = |id: &PartId| Fault {
        path: id.kind.list().to_owned(),
        message: format!("there is no {} named `{}`", id.kind.word(), id.name),
    };
    match edit {
        PartsEdit::Add(part) => file.add_part(part.clone()),
        PartsEdit::Duplicate(id) => {
            let mut part = file.part(id).ok_or_else(|| vec![gone(id)])?;
            *part.name_mut() = duplicate_name(yard.file(), id);
            file.add_part(part);
        }
        PartsEdit::Change(changes) => {
            for (id, part) in changes {
                if !file.change_part(id, part.clone()) {
                    return Err(vec![gone(id)]);
                }
            }
        }
        PartsEdit::Delete { id, with_users } => {
            let users = file.users_of(id);
            if !with_users && !users.is_empty() {
                let message = format!("{} is in use by {}", id.name, users_words(&users));
                return Err(vec![Fault { path: id.kind.list().to_owned(), message }]);
            }
            if !file.remove_part(id) {
                return Err(vec![gone(id)]);
            }
        }
    }
    Yard::new(file)
}

/// The name that a duplicate gets.
pub fn duplicate_name(file: &YardFile, id: &PartId) -> String {
    // So that the name of a long name's copy is none that is too long.
    const KEPT: usize = 68;
    let kept: String = id.name.chars().take(KEPT).collect();
    file.free_name(id.kind, &format!("{} copy", kept.trim_end()))
}

/// What uses a part, as words: `setups Bittern B24 and Bittern B14, readings 1 and 2`.
pub fn users_words(users: &Users) -> String {
    let numbered = |places: &[usize]| places.iter().map(|place| (place + 1).to_string()).collect();
    let groups: [(&str, &str, Vec<String>); 3] = [
        ("setup", "setups", users.setups.clone()),
        ("reading", "readings", numbered(&users.readings)),
        ("weigh-in", "weigh-ins", numbered(&users.weigh_ins)),
    ];
    let words = groups.into_iter().filter_map(|(one, many, names)| match names.as_slice() {
        [] => None,
        [name] => Some(format!("{one} {name}")),
        [first @ .., last] => Some(format!("{many} {} and {last}", first.join(", "))),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// What is learnt, under the names that parts have after changes.
pub(super) fn renamed_choice(choice: &Choice, changes: &[(PartId, PartFile)]) -> Choice {
    use barpoise_core::record::PartKind;
    use barpoise_core::weigh_in::Part;
    let Choice::Chosen(unknowns) = choice else { return choice.clone() };
    let renamed = |unknown: &Unknown| {
        let kind = match unknown.quantity.part() {
            Part::Powerhead => PartKind::Powerhead,
            Part::Bar => PartKind::Bar,
            Part::Chain => PartKind::Chain,
        };
        let change = changes.iter().find(|(id, _)| id.kind == kind && id.name == *unknown.of);
        change.map_or_else(|| unknown.clone(), |(_, part)| Unknown::new(part.name(), unknown.quantity))
    };
    Choice::Chosen(unknowns.iter().map(renamed).collect())
}

/// The renames and changes of an edit.
pub(super) fn changes_of(edit: &PartsEdit) -> &[(PartId, PartFile)] {
    match edit {
        PartsEdit::Change(changes) => changes,
        _ => &[],
    }
}
