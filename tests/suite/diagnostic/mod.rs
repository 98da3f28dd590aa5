//! Places in texts and models.

mod places;
