pub(in crate::catalogue) static BOTANICALS: &[crate::catalogue::Botanical] = &[];
