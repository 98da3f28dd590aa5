pub(in crate::catalogue) static HOPS: &[crate::catalogue::Hop] = &[];
