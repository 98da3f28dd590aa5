pub(in crate::catalogue) static WATER_AGENTS: &[crate::catalogue::WaterAgent] = &[];
