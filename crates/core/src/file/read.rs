//! stub
use crate::{Fault, Yard};
/// stub
#[derive(Debug)]
pub struct YardError(String);
impl std::fmt::Display for YardError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}
impl std::error::Error for YardError {}
/// stub
pub fn read_yard(p: &std::path::Path) -> Result<Yard, YardError> {
    let t = std::fs::read_to_string(p).map_err(|e| YardError(e.to_string()))?;
    parse(&t)
}
fn parse(t: &str) -> Result<Yard, YardError> {
    let o = ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
    let f = o.from_str(t).map_err(|e| YardError(e.to_string()))?;
    Yard::new(f).map_err(|e: Vec<Fault>| YardError(format!("{e:?}")))
}
/// stub
pub fn demo_yard() -> Result<Yard, YardError> {
    parse(include_str!("../../../../assets-demo/alder-flat.yard.ron"))
}
