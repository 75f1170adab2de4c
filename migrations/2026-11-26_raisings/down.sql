DROP TABLE raisings;
