//! Figures by the item that they belong to.

/// Which item of a formula. Formulas hand them out; a formula and the same one with other lots in it share them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct ItemIndex(usize);

/// One `T` for each item of a formula.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct PerItem<T>(Vec<T>);

impl<T> PerItem<T> {
    pub(super) const fn of(values: Vec<T>) -> Self {
        Self(values)
    }

    /// Adds the figure of one more item.
    pub(crate) fn push(&mut self, value: T) -> ItemIndex {
        self.0.push(value);
        ItemIndex(self.0.len() - 1)
    }

    pub(crate) fn iter(&self) -> impl Iterator<Item = (ItemIndex, &T)> {
        let values = self.0.iter().enumerate();
        values.map(|(index, value)| (ItemIndex(index), value))
    }

    pub(crate) fn iter_mut(&mut self) -> impl Iterator<Item = (ItemIndex, &mut T)> {
        let values = self.0.iter_mut().enumerate();
        values.map(|(index, value)| (ItemIndex(index), value))
    }

    pub(crate) fn values(&self) -> std::slice::Iter<'_, T> {
        self.0.iter()
    }

    pub(crate) fn values_mut(&mut self) -> std::slice::IterMut<'_, T> {
        self.0.iter_mut()
    }

    /// Each figure beside that of the same item in `others`, of the same formula.
    pub(crate) fn with<'a, U>(
        &'a self,
        others: &'a PerItem<U>,
    ) -> impl Iterator<Item = (&'a T, &'a U)> {
        debug_assert_eq!(self.0.len(), others.0.len(), "items of one formula");
        self.0.iter().zip(&others.0)
    }

    /// The same, to change those of `others`.
    pub(crate) fn with_mut<'a, U>(
        &'a self,
        others: &'a mut PerItem<U>,
    ) -> impl Iterator<Item = (&'a T, &'a mut U)> {
        debug_assert_eq!(self.0.len(), others.0.len(), "items of one formula");
        self.0.iter().zip(&mut others.0)
    }

    /// Another figure for each item.
    pub(crate) fn map<U>(&self, mut figure: impl FnMut(ItemIndex, &T) -> U) -> PerItem<U> {
        PerItem(
            self.iter()
                .map(|(index, value)| figure(index, value))
                .collect(),
        )
    }

    /// The same figure for each item.
    pub(crate) fn all<U: Clone>(&self, figure: U) -> PerItem<U> {
        PerItem(vec![figure; self.0.len()])
    }

    /// The figure of an item; none for an index of a longer formula.
    pub(crate) fn get(&self, index: ItemIndex) -> Option<&T> {
        self.0.get(index.0)
    }

    pub(crate) fn get_mut(&mut self, index: ItemIndex) -> Option<&mut T> {
        self.0.get_mut(index.0)
    }

    pub(crate) fn set(&mut self, index: ItemIndex, value: T) {
        debug_assert!(index.0 < self.0.len(), "an item of this formula");
        if let Some(place) = self.0.get_mut(index.0) {
            *place = value;
        }
    }
}

impl<T: Copy + Default> PerItem<T> {
    /// The figure of an item of this formula.
    pub(crate) fn at(&self, index: ItemIndex) -> T {
        debug_assert!(index.0 < self.0.len(), "an item of this formula");
        self.get(index).copied().unwrap_or_default()
    }
}
