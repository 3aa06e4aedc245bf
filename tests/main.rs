mod units;
