mod source;
