pub(in crate::catalogue) static YEASTS: &[crate::catalogue::Yeast] = &[];
