//! Recipes, plants, stocks and logs as plain data.

mod built_in_code;
