mod gcode;
mod good;
mod sample;
