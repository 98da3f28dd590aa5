//! Nothing: the benches of this package are all there is.
