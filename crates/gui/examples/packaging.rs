//! Writes the manual pages, the completions and the icons of the packaging anew.

#[path = "../packaging/generate.rs"]
mod generate;

use std::error::Error;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("packaging");
    for (name, bytes) in generate::files()? {
        let path = folder.join(&name);
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent)?;
        }
        std::fs::write(path, bytes)?;
        println!("{name}");
    }
    Ok(())
}
