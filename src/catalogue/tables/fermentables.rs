pub(in crate::catalogue) static FERMENTABLES: &[crate::catalogue::Fermentable] = &[];
