//! Stable codes for the variants of an enum.

/// `codes! { Warning { YieldHigh = "yield_high", … } }`: one that is left out does not compile.
macro_rules! codes {
    ($entry:ident { $($variant:ident = $code:literal,)+ }) => {
        impl $entry {
            /// Every code there is, in the order of the variants.
            #[allow(unreachable_pub, reason = "an entry that hosts do not see has codes too")]
            pub const CODES: &'static [&'static str] = &[$($code,)+];

            /// The stable code.
            const fn coded(&self) -> &'static str {
                match self { $(Self::$variant { .. } => $code,)+ }
            }
        }
    };
}

pub(crate) use codes;
