//! Import.
use clap::Args;
use office::OfficeError;
#[derive(Debug, Args)]
pub(crate) struct Import {}
pub(super) fn run(_: &Import, _: bool) -> Result<Vec<String>, OfficeError> {
    Ok(vec![])
}
