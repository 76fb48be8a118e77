mod gcode;
mod good;
mod hostile;
mod sample;
mod scale;
mod spoilt;
