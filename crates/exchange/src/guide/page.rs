//! A page as plain data.

use sixrung_drawing::{Mark, Point};

/// One page, in reading order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// What stands on it.
    pub nodes: Vec<Node>,
}

/// Something on a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Node {
    /// Marks that are read together.
    Marks(Vec<Mark>),
    /// Nodes that play a part together.
    Group(Role, Vec<Node>),
    /// Rules, shading, page numbers: seen, but not read out.
    Decoration(Vec<Mark>),
}

/// What part a group plays, as tagged PDF knows it (ISO 32000-1, 14.8.4).
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// A heading: its level from 1, and its text.
    Heading(u16, String),
    /// A paragraph.
    Paragraph,
    /// A picture, with what is read out in its place.
    Figure(String),
    /// A table.
    Table,
    /// A row of a table.
    Row,
    /// The head of a column.
    ColumnHead,
    /// The head of a row.
    RowHead,
    /// A cell.
    Cell,
}

impl Node {
    /// One role with marks of its own.
    #[must_use]
    pub fn of(role: Role, marks: Vec<Mark>) -> Self {
        Self::Group(role, vec![Self::Marks(marks)])
    }

    /// The same elsewhere.
    #[must_use]
    pub fn moved(self, by: Point) -> Self {
        let marks = |marks: Vec<Mark>| marks.into_iter().map(|mark| mark.moved(by)).collect();
        match self {
            Self::Marks(all) => Self::Marks(marks(all)),
            Self::Decoration(all) => Self::Decoration(marks(all)),
            Self::Group(role, nodes) => Self::Group(role, nodes.into_iter().map(|node| node.moved(by)).collect()),
        }
    }

    /// Every mark in it, in order.
    pub fn marks(&self) -> Box<dyn Iterator<Item = &Mark> + '_> {
        match self {
            Self::Marks(marks) | Self::Decoration(marks) => Box::new(marks.iter()),
            Self::Group(_, nodes) => Box::new(nodes.iter().flat_map(Self::marks)),
        }
    }
}
