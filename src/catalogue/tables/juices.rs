pub(in crate::catalogue) static JUICES: &[crate::catalogue::Juice] = &[];
