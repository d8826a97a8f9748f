//! Trees set side by side.

use crate::reading::{Node, Value};

/// Whether two trees say the same, wherever it stands.
pub(crate) fn same(a: &Node, b: &Node) -> bool {
    match (&a.value, &b.value) {
        (Value::Scalar { text: a, .. }, Value::Scalar { text: b, .. }) => a == b,
        (Value::List(a), Value::List(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
        }
        (Value::Map(a), Value::Map(b)) => {
            let pairs = || a.iter().zip(b);
            a.len() == b.len() && pairs().all(|(a, b)| same(&a.0, &b.0) && same(&a.1, &b.1))
        }
        _ => false,
    }
}
