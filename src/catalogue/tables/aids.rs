pub(in crate::catalogue) static AIDS: &[crate::catalogue::Aid] = &[];
