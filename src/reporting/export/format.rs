//! The formats in which a report can be written.

use crate::clinical::codes;

codes! {
    /// A format of files.
    Format {
        Csv = "csv", "CSV, one file a table";
        Xlsx = "xlsx", "workbook, one sheet a table";
        Json = "json", "JSON, all tables";
        Parquet = "parquet", "Parquet, the lines behind the tables";
    }
}
