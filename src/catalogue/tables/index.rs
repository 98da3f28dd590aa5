pub(in crate::catalogue) const LONGEST_KEY: usize = 0; pub(in crate::catalogue) static INDEX: &[super::Key] = &[];
