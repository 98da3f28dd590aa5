pub(in crate::catalogue) static GENERIC: &[super::Generic] = &[];
