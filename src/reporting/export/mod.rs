//! Files: each format made from the same tables, and the lines behind them.

pub mod csv;
pub mod folder;
mod format;
pub mod json;
pub mod parquet;
pub mod xlsx;

pub use format::Format;

/// A file could not be made.
#[derive(Debug, thiserror::Error)]
pub enum ExportError {
    /// Of a table as CSV.
    #[error("the CSV file could not be made")]
    Csv(#[from] ::csv::Error),
    /// Of the workbook.
    #[error("the workbook could not be made")]
    Workbook(#[from] rust_xlsxwriter::XlsxError),
    /// Of the JSON document.
    #[error("the JSON file could not be made")]
    Json(#[from] serde_json::Error),
    /// Of the line list.
    #[error("the line list could not be made")]
    Lines(#[from] ::parquet::errors::ParquetError),
}

/// What an export gives.
pub type Result<T> = std::result::Result<T, ExportError>;
